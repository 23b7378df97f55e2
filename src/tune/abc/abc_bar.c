#include "tune/abc/abc_bar.h"

#include "base/messages.h"
#include "tune/abc/abc_mark.h"
#include "tune/abc/abc_signs.h"
#include "tune/abc/abc_voice.h"

#include <string.h>

void hbk_abc_forget_accidentals(struct hbk_abc *abc)
{
    memset(abc->music.marked, 0, sizeof(abc->music.marked));
    for (int step = 0; step < 7; step++) {
        abc->music.latest[step] = -1;
    }
}

void hbk_abc_need_bar(struct hbk_abc *abc)
{
    struct hbk_abc_bars *const bars = &abc->bars;
    if (bars->is_open) {
        hbk_abc_signs_at_note(abc);
        return;
    }
    struct hbk_tune *const tune = abc->build.tune;
    if (bars->endings > 0 && !bars->ending_is_open) {
        /* Past the last ending: an end of repeat goes back to here. */
        bars->endings = 0;
        bars->section = tune->n_bars;
        bars->is_explicit = false;
    }
    struct hbk_tune_bar *const bar =
        hbk_build_open_bar(&abc->build, hbk_abc_place(abc, abc->at));
    bar->repeat_start = bars->next_repeats;
    bar->ending = bars->next_ending;
    bar->ending_passes = bars->next_passes;
    bar->part = bars->part;
    bars->last_part = bars->part != 0 ? bars->part : bars->last_part;
    bars->part = 0;
    bars->next_repeats = false;
    bars->next_ending = NULL;
    bars->next_passes = 0;
    bars->is_open = true;
    hbk_abc_signs_at_note(abc);
    hbk_abc_first_layer(abc);
}

/* What a run of | [ ] : . says. */
struct sign {
    unsigned ends;   /* colons before */
    unsigned begins; /* colons after */
    enum hbk_tune_barline style;
    bool is_bar; /* false for a sign that is none */
    bool is_odd; /* ABC has no such bar line */
};

static size_t colons_at(const char *text, size_t n)
{
    size_t colons = 0;
    while (colons < n && text[colons] == ':') {
        colons++;
    }
    return colons;
}

static enum hbk_tune_barline style_of(const char *core, size_t length)
{
    if (core[0] == '.') {
        return HBK_TUNE_BAR_DOTTED;
    }
    if (length < 2) {
        return HBK_TUNE_BAR_PLAIN;
    }
    if (length >= 3 && core[0] == '[' && core[length - 1] == ']') {
        return HBK_TUNE_BAR_INVISIBLE;
    }
    return core[length - 1] == ']' ? HBK_TUNE_BAR_FINAL
           : core[0] == '['        ? HBK_TUNE_BAR_THICK_THIN
                                   : HBK_TUNE_BAR_DOUBLE;
}

/* Whether the next repeat sign on the way ends a repeat. */
static bool ends_later(const struct hbk_abc *abc)
{
    for (size_t i = abc->at; i + 1 < abc->source.end; i++) {
        const char c = abc->source.bytes[i];
        const char next = abc->source.bytes[i + 1];
        if (c == ':' && (next == '|' || next == ':')) {
            return true;
        }
        if (c == '|' && next == ':') {
            return false;
        }
    }
    return false;
}

/*
 * Colons between two bar lines, as in [|]:| and |:|. They end a repeat that has
 * begun, or stand with an invisible bar line for its end; else they begin one,
 * if it ends later.
 */
static void read_inner(const struct hbk_abc *abc, struct sign *sign,
                       unsigned inner)
{
    const struct hbk_abc_bars *const bars = &abc->bars;
    const bool is_hidden = sign->style == HBK_TUNE_BAR_INVISIBLE;
    sign->is_odd = !is_hidden;
    if (sign->ends > 0) {
        sign->begins = sign->begins > 0 ? sign->begins : inner;
    } else if (is_hidden || (sign->begins == 0 &&
                             (bars->repeat_is_open || !ends_later(abc)))) {
        sign->ends = inner;
        sign->style = HBK_TUNE_BAR_PLAIN;
    } else if (sign->begins == 0) {
        sign->begins = inner;
    }
}

static struct sign read_sign(const struct hbk_abc *abc, const char *text,
                             size_t n)
{
    struct sign sign = {.style = HBK_TUNE_BAR_PLAIN};
    const size_t from = colons_at(text, n);
    if (from == n) {
        sign.ends = (unsigned)(n / 2);
        sign.begins = sign.ends;
        sign.is_bar = n >= 2;
        sign.is_odd = n % 2 != 0;
        return sign;
    }
    size_t to = n;
    while (text[to - 1] == ':') {
        to--;
    }
    sign.ends = (unsigned)from;
    sign.begins = (unsigned)(n - to);
    size_t core = from;
    while (core < to && text[core] != ':') {
        core++;
    }
    sign.style = style_of(text + from, core - from);
    sign.is_bar = memchr(text + from, '|', to - from) != NULL;
    if (core < to) {
        read_inner(abc, &sign, (unsigned)colons_at(text + core, to - core));
    }
    return sign;
}

static void tell_odd(struct hbk_abc *abc, size_t from, struct sign sign)
{
    const size_t n = abc->at - from;
    hbk_build_warn(&abc->build, hbk_abc_place(abc, from), HBK_H_ODD_BAR_LINE,
                   "\"%.*s\" is an odd bar line, read as %s",
                   (int)(n > 20 ? 20 : n), abc->source.bytes + from,
                   sign.ends > 0 && sign.begins > 0
                       ? "the end of one repeat and the beginning of the next"
                   : sign.ends > 0 ? "the end of a repeat"
                                   : "the beginning of a repeat");
}

static bool is_strong(enum hbk_tune_barline style)
{
    return style == HBK_TUNE_BAR_DOUBLE || style == HBK_TUNE_BAR_FINAL ||
           style == HBK_TUNE_BAR_THICK_THIN;
}

static void end_repeat(struct hbk_abc *abc, unsigned colons)
{
    struct hbk_abc_bars *const bars = &abc->bars;
    struct hbk_tune *const tune = abc->build.tune;
    const unsigned times =
        colons + 1 > HBK_BUILD_TIMES_MAX ? HBK_BUILD_TIMES_MAX : colons + 1;
    hbk_build_last_bar(&abc->build)->repeat_end = times;
    if (bars->section == tune->n_bars && !bars->is_explicit) {
        bars->section = bars->earlier; /* "|| :|" */
    }
    if (!bars->is_explicit && bars->endings < 2 && bars->section > 0 &&
        bars->section < tune->n_bars) {
        tune->bars[bars->section].repeat_start = true;
    }
    if (bars->endings == 0) {
        bars->section = tune->n_bars;
        bars->earlier = tune->n_bars;
        bars->is_explicit = false;
    }
    bars->repeat_is_open = false;
}

static void apply(struct hbk_abc *abc, struct sign sign)
{
    struct hbk_abc_bars *const bars = &abc->bars;
    struct hbk_tune *const tune = abc->build.tune;
    bars->is_open = false;
    if (tune->n_bars > 0) {
        struct hbk_tune_bar *const last = hbk_build_last_bar(&abc->build);
        if (sign.style != HBK_TUNE_BAR_PLAIN) {
            last->right = sign.style;
        }
        if (sign.ends > 0) {
            end_repeat(abc, sign.ends);
        } else if (is_strong(sign.style) && !bars->is_explicit) {
            bars->earlier =
                bars->section < tune->n_bars ? bars->section : bars->earlier;
            bars->section = tune->n_bars;
        }
        if (bars->ending_is_open && bars->next_ending == NULL &&
            (sign.ends > 0 || sign.begins > 0 || is_strong(sign.style))) {
            last->ending_stop = true;
            bars->ending_is_open = false;
        }
    }
    if (sign.ends > 0 && tune->n_bars == 0) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->at),
                       HBK_H_REPEAT_SIGN,
                       "a repeat ends here before any note and is passed over");
    }
    if (sign.begins > 0) {
        bars->next_repeats = true;
        bars->section = tune->n_bars;
        bars->is_explicit = true;
        bars->repeat_is_open = true;
        bars->endings = 0;
    }
}

void hbk_abc_bar_line(struct hbk_abc *abc)
{
    struct hbk_abc_music *const music = &abc->music;
    const size_t from = abc->at;
    abc->at += hbk_abc_peek(abc, 0) == '.' ? 1 : 0;
    for (;;) {
        const char c = hbk_abc_peek(abc, 0);
        const char next = hbk_abc_peek(abc, 1);
        const bool is_more = c == '|' || c == ':' || c == ']' ||
                             (c == '[' && (next == '|' || next == ']'));
        if (!is_more) {
            break;
        }
        abc->at++;
    }
    const struct sign sign =
        read_sign(abc, abc->source.bytes + from, abc->at - from);
    if (!sign.is_bar) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, from), HBK_H_STRAY_SIGN,
                       "\"%.*s\" is no bar line and is passed over",
                       (int)(abc->at - from > 20 ? 20 : abc->at - from),
                       abc->source.bytes + from);
        return;
    }
    if (sign.is_odd) {
        tell_odd(abc, from, sign);
    }
    music->is_joined = false;
    music->is_adjacent = false;
    hbk_abc_marks_to_bar_line(abc);
    music->point = HBK_TUNE_NONE;
    music->below = NULL;
    music->above = NULL;
    hbk_abc_forget_accidentals(abc);
    hbk_abc_signs_at_bar_line(abc);
    apply(abc, sign);
    const char next = hbk_abc_peek(abc, 0);
    if (next >= '1' && next <= '9') {
        hbk_abc_ending(abc);
    }
}

/* Numbers such as 1 or 1,3-5; false when one is none or above 64. */
static bool read_passes(struct hbk_abc *abc, uint64_t *passes)
{
    for (;;) {
        unsigned from = 0;
        if (!hbk_abc_digits(abc, 64, &from) || from == 0) {
            return false;
        }
        unsigned to = from;
        if (hbk_abc_peek(abc, 0) == '-') {
            abc->at++;
            if (!hbk_abc_digits(abc, 64, &to)) {
                return false;
            }
        }
        for (unsigned n = from; n <= to; n++) {
            *passes |= (uint64_t)1 << (n - 1);
        }
        const char next = hbk_abc_peek(abc, 1);
        if (hbk_abc_peek(abc, 0) != ',' || next < '0' || next > '9') {
            return true;
        }
        abc->at++;
    }
}

void hbk_abc_ending(struct hbk_abc *abc)
{
    struct hbk_abc_bars *const bars = &abc->bars;
    struct hbk_abc_music *const music = &abc->music;
    const size_t from = abc->at;
    uint64_t passes = 0;
    if (!read_passes(abc, &passes)) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, from),
                        HBK_H_ENDING_NUMBER,
                        "an ending is numbered from 1 to 64, as in |1 or "
                        "[1,3-5");
        return;
    }
    if (bars->ending_is_open && bars->next_ending == NULL &&
        abc->build.tune->n_bars > 0) {
        hbk_build_last_bar(&abc->build)->ending_stop = true;
    }
    hbk_abc_signs_at_bar_line(abc);
    bars->is_open = false;
    music->is_joined = false;
    bars->next_ending = hbk_build_ending_text(abc->build.arena, passes);
    bars->next_passes = passes;
    bars->ending_is_open = true;
    bars->endings++;
}

void hbk_abc_bars_end(struct hbk_abc *abc)
{
    if (abc->bars.ending_is_open && abc->build.tune->n_bars > 0) {
        hbk_build_last_bar(&abc->build)->ending_stop = true;
    }
    hbk_abc_signs_end(abc);
}
