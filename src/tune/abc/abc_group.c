#include "tune/abc/abc_group.h"

#include "base/messages.h"
#include "tune/abc/abc_mark.h"
#include "tune/abc/abc_signs.h"
#include "tune/abc/abc_text.h"

#include <string.h>

/* Decorations that are signs of a note; the others are marks. */
static const struct {
    const char *name;
    unsigned bit;
} decorations[] = {
    {".", HBK_TUNE_STACCATO},
    {"staccato", HBK_TUNE_STACCATO},
    {"wedge", HBK_TUNE_STACCATISSIMO},
    {"tenuto", HBK_TUNE_TENUTO},
    {">", HBK_TUNE_ACCENT},
    {"accent", HBK_TUNE_ACCENT},
    {"emphasis", HBK_TUNE_ACCENT},
    {"^", HBK_TUNE_MARCATO},
    {"marcato", HBK_TUNE_MARCATO},
    {"fermata", HBK_TUNE_FERMATA},
    {"invertedfermata", HBK_TUNE_FERMATA},
    {"trill", HBK_TUNE_TRILL},
    {"trill(", HBK_TUNE_TRILL},
    {"breath", HBK_TUNE_BREATH},
    {"caesura", HBK_TUNE_CAESURA}, /* not of the standard, but written */
    {"roll", HBK_TUNE_ROLL},
    {"turn", HBK_TUNE_TURN},
    {"turnx", HBK_TUNE_TURN},
    {"invertedturn", HBK_TUNE_INVERTED_TURN},
    {"invertedturnx", HBK_TUNE_INVERTED_TURN},
    {"mordent", HBK_TUNE_MORDENT},
    {"lowermordent", HBK_TUNE_MORDENT},
    {"uppermordent", HBK_TUNE_UPPER_MORDENT},
    {"pralltriller", HBK_TUNE_UPPER_MORDENT},
};

void hbk_abc_default_symbols(struct hbk_abc *abc)
{
    static const struct {
        char letter;
        const char *name;
    } standard[] = {
        {'.', "staccato"},     {'~', "roll"},         {'H', "fermata"},
        {'L', "accent"},       {'M', "lowermordent"}, {'O', "coda"},
        {'P', "uppermordent"}, {'S', "segno"},        {'T', "trill"},
        {'u', "upbow"},        {'v', "downbow"},
    };
    for (size_t i = 0; i < sizeof(standard) / sizeof(standard[0]); i++) {
        abc->said.symbols[(unsigned char)standard[i].letter] = standard[i].name;
    }
}

void hbk_abc_decorate(struct hbk_abc *abc, const char *name, size_t length)
{
    bool is_known = false;
    for (size_t i = 0; i < sizeof(decorations) / sizeof(decorations[0]); i++) {
        if (strlen(decorations[i].name) == length &&
            memcmp(decorations[i].name, name, length) == 0) {
            abc->music.decorations |= decorations[i].bit;
            is_known = true;
        }
    }
    const char *const words = hbk_abc_text(abc->build.arena, name, length);
    if (hbk_abc_sign(abc, words, false)) {
        abc->music.point = HBK_TUNE_NONE; /* not of the next note */
        is_known = true;
    }
    hbk_abc_mark_decoration(abc, words, is_known);
}

/* 2 and 4 of the standard's table go by threes, n by the meter. */
static unsigned usual_normal(const struct hbk_abc *abc, unsigned actual)
{
    static const unsigned table[10] = {0, 0, 3, 2, 3, 0, 2, 0, 3, 0};
    const struct hbk_tune_meter *const meter = &abc->said.meter;
    const bool is_compound = meter->unit == 8 && meter->beats % 3 == 0 &&
                             meter->beats >= 6 && meter->beats <= 12;
    if (actual > 9) {
        return 0;
    }
    return table[actual] != 0 ? table[actual] : is_compound ? 3 : 2;
}

void hbk_abc_tuplet(struct hbk_abc *abc)
{
    enum { TUPLET_MAX = 99 };
    struct hbk_abc_music *const music = &abc->music;
    const size_t from = abc->at;
    unsigned numbers[3] = {0, 0, 0};
    abc->at++;
    bool good = hbk_abc_digits(abc, TUPLET_MAX, &numbers[0]);
    for (size_t i = 1; good && i < 3 && hbk_abc_peek(abc, 0) == ':'; i++) {
        abc->at++;
        const char c = hbk_abc_peek(abc, 0);
        if (c >= '0' && c <= '9') {
            good = hbk_abc_digits(abc, TUPLET_MAX, &numbers[i]);
        }
    }
    const unsigned actual = numbers[0];
    const unsigned normal =
        numbers[1] > 0 ? numbers[1] : usual_normal(abc, actual);
    if (!good || actual < 2 || normal == 0) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, from), HBK_H_TUPLET,
                        "this tuplet cannot be read; right would be (3 or "
                        "(5:4:5");
        return;
    }
    if (music->tuplet_left > 0) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, from), HBK_H_TUPLET,
                        "a tuplet begins before the one before it has all "
                        "its notes");
        return;
    }
    music->tuplet = hbk_build_add_tuplet(
        &abc->build,
        (struct hbk_tune_tuplet){.first = abc->build.tune->n_events,
                                 .actual = actual,
                                 .normal = normal});
    music->tuplet_left = numbers[2] > 0 ? numbers[2] : actual;
}

void hbk_abc_broken(struct hbk_abc *abc)
{
    enum { SIGNS_MAX = 6 };
    struct hbk_abc_music *const music = &abc->music;
    const size_t from = abc->at;
    const char sign = hbk_abc_peek(abc, 0);
    while (hbk_abc_peek(abc, 0) == sign) {
        abc->at++;
    }
    const size_t n = abc->at - from;
    if (n > SIGNS_MAX) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, from),
                        HBK_H_BROKEN_RHYTHM,
                        "%zu signs of broken rhythm; at most %d mean anything",
                        n, SIGNS_MAX);
    } else if (music->last == HBK_TUNE_NONE || music->broken != 0) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, from),
                       HBK_H_BROKEN_RHYTHM,
                       "\"%c\" stands after no note and is passed over", sign);
    } else {
        music->broken = sign == '>' ? (int)n : -(int)n;
    }
}

void hbk_abc_tie(struct hbk_abc *abc)
{
    struct hbk_abc_music *const music = &abc->music;
    struct hbk_tune *const tune = abc->build.tune;
    const size_t from = abc->at++;
    if (music->in_grace) {
        return;
    }
    if (abc->chord.is_open && abc->chord.n > 0) {
        abc->chord.notes[abc->chord.n - 1].tie_start = true;
        return;
    }
    struct hbk_tune_event *const last =
        music->last == HBK_TUNE_NONE ? NULL : &tune->events[music->last];
    if (last == NULL || last->kind != HBK_TUNE_NOTE) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, from), HBK_H_TIE_NOWHERE,
                       "a tie stands after no note and is passed over");
        return;
    }
    if (!music->is_adjacent) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, from),
                       HBK_H_ABC_LOOSE_TIE,
                       "a tie belongs directly behind its note; read as if it "
                       "stood there");
    }
    last->tie_start = true;
    for (size_t i = music->last + 1;
         i < tune->n_events && abc->voiced.items[i].in_chord; i++) {
        tune->events[i].tie_start = true;
    }
}

void hbk_abc_slur_end(struct hbk_abc *abc)
{
    struct hbk_abc_music *const music = &abc->music;
    struct hbk_tune *const tune = abc->build.tune;
    const size_t from = abc->at++;
    size_t last = tune->n_events;
    while (last > 0 && (tune->events[last - 1].kind == HBK_TUNE_REST ||
                        abc->voiced.items[last - 1].in_chord)) {
        last--;
    }
    if (abc->chord.is_open && abc->chord.n > 0 && music->slurs_open > 0 &&
        music->slur_starts == 0) {
        music->slurs_open--;
        abc->chord.notes[abc->chord.n - 1].slur_stops++;
        return;
    }
    if (last == 0 || music->slurs_open == 0) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, from), HBK_H_SLUR_OPEN,
                       "a slur ends here that never began");
        return;
    }
    music->slurs_open--;
    if (music->slur_starts > 0) {
        music->slur_starts--; /* () around no note */
    } else {
        tune->events[last - 1].slur_stops++;
    }
}
