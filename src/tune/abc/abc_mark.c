#include "tune/abc/abc_mark.h"

#include "base/messages.h"
#include "tune/abc/abc_fingering.h"
#include "tune/abc/abc_text.h"
#include "tune/melody/build_marks.h"
#include "tune/melody/build_words.h"
#include "tune/melody/sign_words.h"

#include <string.h>

static struct hbk_build_mark *add(struct hbk_abc *abc,
                                  enum hbk_tune_mark_kind kind)
{
    return hbk_build_mark(&abc->build, kind,
                          hbk_build_at_event(abc->music.target),
                          hbk_abc_place(abc, abc->at));
}

static void add_text(struct hbk_abc *abc, enum hbk_tune_mark_kind kind,
                     const char *text)
{
    struct hbk_build_mark *const mark = add(abc, kind);
    if (mark != NULL) {
        mark->mark.text = text;
    }
}

/* What a hairpin's name says. */
struct hairpin {
    const char *name;
    enum hbk_tune_mark_kind kind;
    bool begins;
};

static const struct hairpin *find_hairpin(const char *name)
{
    static const struct hairpin hairpins[] = {
        {"crescendo(", HBK_TUNE_MARK_CRESCENDO, true},
        {"<(", HBK_TUNE_MARK_CRESCENDO, true},
        {"crescendo)", HBK_TUNE_MARK_CRESCENDO, false},
        {"<)", HBK_TUNE_MARK_CRESCENDO, false},
        {"diminuendo(", HBK_TUNE_MARK_DIMINUENDO, true},
        {">(", HBK_TUNE_MARK_DIMINUENDO, true},
        {"diminuendo)", HBK_TUNE_MARK_DIMINUENDO, false},
        {">)", HBK_TUNE_MARK_DIMINUENDO, false},
    };
    for (size_t i = 0; i < sizeof(hairpins) / sizeof(hairpins[0]); i++) {
        if (strcmp(hairpins[i].name, name) == 0) {
            return &hairpins[i];
        }
    }
    return NULL;
}

/* An end stands where the music is now: after the last note. */
static void end_hairpin(struct hbk_abc *abc, const struct hairpin *hairpin)
{
    struct hbk_abc_music *const music = &abc->music;
    const struct hbk_build_spot now = music->target == HBK_TUNE_NONE
                                          ? hbk_build_at_next(&abc->build)
                                          : hbk_build_at_event(music->target);
    const struct hbk_build_mark *const mark =
        hbk_build_end_line(&abc->build, true, (unsigned)hairpin->kind, now);
    if (mark == NULL) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->at),
                       HBK_H_MARK_OPEN, "a hairpin ends here that never began");
    } else if (music->n_ends < HBK_ABC_ENDS_MAX &&
               music->target == HBK_TUNE_NONE) {
        music->ends[music->n_ends++] = (size_t)(mark - abc->build.marks.items);
    }
}

static void put_hairpin(struct hbk_abc *abc, const struct hairpin *hairpin)
{
    if (!hairpin->begins) {
        end_hairpin(abc, hairpin);
        return;
    }
    struct hbk_build_mark *const mark = add(abc, hairpin->kind);
    if (mark != NULL) {
        hbk_build_begin_line(&abc->build, mark, (unsigned)hairpin->kind);
    }
}

/* Decorations that neither notes nor marks have. */
static void count_decoration(struct hbk_abc *abc, const char *name)
{
    static const struct {
        const char *name, *one, *many;
    } kinds[] = {
        {"upbow", "bow mark", "bow marks"},
        {"downbow", "bow mark", "bow marks"},
        {"arpeggio", "arpeggio", "arpeggios"},
        {"snap", "mark for strings", "marks for strings"},
        {"thumb", "mark for strings", "marks for strings"},
        {"slide", "slide", "slides"},
        {"shortphrase", "phrase mark", "phrase marks"},
        {"mediumphrase", "phrase mark", "phrase marks"},
        {"longphrase", "phrase mark", "phrase marks"},
        {"trill(", "line after a trill", "lines after trills"},
        {"/", "tremolo", "tremolos"},
        {"//", "tremolo", "tremolos"},
        {"///", "tremolo", "tremolos"},
        {"8va(", "octave line", "octave lines"},
        {"8vb(", "octave line", "octave lines"},
        {"15ma(", "octave line", "octave lines"},
        {"15mb(", "octave line", "octave lines"},
    };
    static const char *const silent[] = {"",     "nil",  "none",  "trill)",
                                         "8va)", "8vb)", "15ma)", "15mb)"};
    for (size_t i = 0; i < sizeof(silent) / sizeof(silent[0]); i++) {
        if (strcmp(silent[i], name) == 0) {
            return;
        }
    }
    for (size_t i = 0; i < sizeof(kinds) / sizeof(kinds[0]); i++) {
        if (strcmp(kinds[i].name, name) == 0) {
            hbk_build_left_out(&abc->build, kinds[i].one, kinds[i].many);
            return;
        }
    }
    const bool is_digit = name[0] >= '0' && name[0] <= '5' && name[1] == '\0';
    hbk_build_left_out(&abc->build,
                       is_digit ? "finger number" : "unknown decoration",
                       is_digit ? "finger numbers" : "unknown decorations");
}

void hbk_abc_mark_decoration(struct hbk_abc *abc, const char *name,
                             bool is_known)
{
    const struct hairpin *const hairpin = find_hairpin(name);
    if (hairpin != NULL) {
        put_hairpin(abc, hairpin);
    } else if (hbk_build_is_dynamic(name)) {
        add_text(abc, HBK_TUNE_MARK_DYNAMIC, name);
    } else if (strcmp(name, "+") == 0 || strcmp(name, "plus") == 0) {
        (void)add(abc, HBK_TUNE_MARK_PLUS);
    } else if (strcmp(name, "open") == 0) {
        (void)add(abc, HBK_TUNE_MARK_OPEN);
    } else if (strcmp(name, "courtesy") == 0) {
        abc->music.accidental = HBK_TUNE_CAUTIONARY;
    } else if (strcmp(name, "editorial") == 0) {
        abc->music.accidental = HBK_TUNE_EDITORIAL;
    } else if (!is_known || strcmp(name, "trill(") == 0) {
        count_decoration(abc, name);
    }
}

void hbk_abc_mark_jump(struct hbk_abc *abc, const char *name, const char *words)
{
    if (words != NULL) {
        add_text(abc, HBK_TUNE_MARK_JUMP, words);
    } else {
        (void)add(abc, strcmp(name, "coda") == 0 ? HBK_TUNE_MARK_CODA
                                                 : HBK_TUNE_MARK_SEGNO);
    }
}

/* ---- texts in quotes ---- */

/* What may follow the root of a chord: "m7", "maj7", "dim", "7sus4". */
static bool is_chord_kind(const char *at)
{
    static const char *const kinds[] = {"maj", "min", "dim",    "aug",   "sus",
                                        "add", "mi",  "ma",     "m",     "M",
                                        "+",   "-",   "\u00B0", "\u00F8"};
    while (*at != '\0' && *at != '/' && *at != '(') {
        size_t n = strspn(at, "0123456789#b, ");
        for (size_t i = 0; n == 0 && i < sizeof(kinds) / sizeof(kinds[0]);
             i++) {
            n = strncmp(at, kinds[i], strlen(kinds[i])) == 0 ? strlen(kinds[i])
                                                             : 0;
        }
        if (n == 0) {
            return false;
        }
        at += n;
    }
    return true;
}

/* "Am7", "F#", "C/E", "G(Em)", "N.C." */
static bool is_chord_symbol(const char *text)
{
    const char *at = text;
    if (*at == '\0' || strcmp(text, "N.C.") == 0) {
        return true;
    }
    if (*at < 'A' || *at > 'G') {
        return *at == '(' && at[1] >= 'A' && at[1] <= 'G';
    }
    at++;
    static const char *const signs[] = {"#",      "b",      "=",
                                        "\u266F", "\u266D", "\u266E"};
    for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
        if (strncmp(at, signs[i], strlen(signs[i])) == 0) {
            at += strlen(signs[i]);
            break;
        }
    }
    return is_chord_kind(at);
}

/* "(" and ")" of a note in brackets. */
static bool is_bracket(const char *text)
{
    return text[0] != '\0' && strspn(text, "()[] ") == strlen(text);
}

bool hbk_abc_mark_text(struct hbk_abc *abc, char sign, const char *text)
{
    const bool is_placed = sign == '^' || sign == '_';
    if (sign == '\0' && is_chord_symbol(text) &&
        hbk_build_kind_of_words(text) != HBK_TUNE_MARK_JUMP) {
        if (text[0] != '\0') {
            hbk_build_left_out(&abc->build, "chord symbol", "chord symbols");
        }
        return true;
    }
    if (is_placed && (hbk_abc_is_fingering(text) || text[0] == '{')) {
        return false;
    }
    if (is_bracket(text)) {
        hbk_build_left_out(&abc->build, "bracket about a note",
                           "brackets about notes");
        return true;
    }
    struct hbk_build_mark *const mark = hbk_build_words(
        &abc->build, text, hbk_build_at_event(abc->music.target),
        hbk_abc_place(abc, abc->at));
    if (mark != NULL) {
        mark->mark.side = sign == '^'   ? HBK_TUNE_ABOVE
                          : sign == '_' ? HBK_TUNE_BELOW
                                        : HBK_TUNE_FREE;
    }
    return true;
}

void hbk_abc_mark_part(struct hbk_abc *abc, const char *text)
{
    if (text[0] != '\0' && hbk_abc_is_heard(abc)) {
        add_text(abc, HBK_TUNE_MARK_REHEARSAL, text);
    }
}

void hbk_abc_mark_order(struct hbk_abc *abc, const char *text)
{
    enum { SHORT = 40 };
    struct hbk_build_mark *const mark = add(abc, HBK_TUNE_MARK_WORDS);
    const char *const form = abc->build.tune->form;
    const bool is_short = form != NULL && strlen(form) <= SHORT;
    if (mark != NULL) {
        mark->mark.text = hbk_arena_printf(abc->build.arena, "Parts: %s",
                                           is_short ? form : text);
        mark->mark.side = HBK_TUNE_ABOVE;
    }
}

void hbk_abc_mark_tempo(struct hbk_abc *abc, const char *words, bool has_number)
{
    const struct hbk_tune *const tune = abc->build.tune;
    struct hbk_build_mark *const mark = add(abc, HBK_TUNE_MARK_TEMPO);
    if (mark == NULL) {
        return;
    }
    mark->mark.text = words;
    if (has_number && tune->n_tempos > 0) {
        const struct hbk_tune_tempo *const tempo =
            &tune->tempos[tune->n_tempos - 1];
        mark->mark.metronome.beat = tempo->beat;
        mark->mark.metronome.count =
            hbk_arena_printf(abc->build.arena, "%.6g", tempo->beats);
    }
}

/* ---- what they stand before ---- */

static bool is_waiting(const struct hbk_build_mark *mark)
{
    return mark->at.where == HBK_BUILD_AT_EVENT &&
           mark->at.event == HBK_TUNE_NONE;
}

static void place(struct hbk_build_mark *mark, struct hbk_build_spot spot)
{
    const bool has_end = mark->end.where != HBK_BUILD_AT_EVENT ||
                         mark->end.event != HBK_TUNE_NONE;
    mark->at = spot;
    mark->end = has_end ? mark->end : spot;
}

void hbk_abc_marks_to_event(struct hbk_abc *abc, size_t event)
{
    struct hbk_build_marks *const marks = &abc->build.marks;
    for (size_t i = abc->music.waiting; i < marks->n; i++) {
        struct hbk_build_mark *const mark = &marks->items[i];
        /* Whoever goes back does so at the end of a bar. */
        const bool is_last_in_bar =
            mark->mark.kind == HBK_TUNE_MARK_JUMP &&
            (hbk_sign_words(mark->mark.text, NULL) & HBK_SIGN_JUMP) != 0;
        if (is_waiting(mark)) {
            place(mark, is_last_in_bar ? hbk_build_at_bar_end(&abc->build)
                                       : hbk_build_at_event(event));
        }
    }
    abc->music.waiting = marks->n;
    abc->music.n_ends = 0;
}

/* A fermata is one of the bar line, a breath or break of the note before. */
static void decorations_to_bar_line(struct hbk_abc *abc)
{
    struct hbk_abc_music *const music = &abc->music;
    const unsigned after = HBK_TUNE_BREATH | HBK_TUNE_CAESURA;
    const unsigned breath = music->decorations & after;
    if ((music->decorations & HBK_TUNE_FERMATA) != 0) {
        struct hbk_build_mark *const mark = add(abc, HBK_TUNE_MARK_FERMATA);
        if (mark != NULL) {
            place(mark, hbk_build_at_bar_end(&abc->build));
        }
    }
    if (breath != 0 && music->last != HBK_TUNE_NONE) {
        abc->build.tune->events[music->last].articulation |= breath;
    }
    const unsigned others =
        music->decorations & ~((unsigned)HBK_TUNE_FERMATA | after);
    if (others != 0) {
        hbk_build_left_out(&abc->build, "sign over a bar line",
                           "signs over bar lines");
    }
    music->decorations = 0;
}

void hbk_abc_marks_to_bar_line(struct hbk_abc *abc)
{
    struct hbk_build_marks *const marks = &abc->build.marks;
    struct hbk_abc_music *const music = &abc->music;
    if (abc->build.tune->n_bars == 0) {
        return;
    }
    decorations_to_bar_line(abc);
    if (!abc->bars.is_open) {
        return; /* it goes with the note after */
    }
    const struct hbk_build_spot end = hbk_build_at_bar_end(&abc->build);
    for (size_t i = music->waiting; i < marks->n; i++) {
        if (is_waiting(&marks->items[i])) {
            place(&marks->items[i], end);
        }
    }
    music->waiting = marks->n;
    for (size_t i = 0; i < music->n_ends; i++) {
        marks->items[music->ends[i]].end = end;
    }
    music->n_ends = 0;
}
