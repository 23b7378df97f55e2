#include "tune/melody/order_signs.h"

#include "base/messages.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void hbk_order_tell(struct hbk_build *build, size_t bar, const char *fmt, ...)
{
    char text[200];
    va_list args;
    va_start(args, fmt);
    (void)vsnprintf(text, sizeof(text), fmt, args);
    va_end(args);
    const struct hbk_tune_bar *const at = &build->tune->bars[bar];
    hbk_build_warn(build, at->place, HBK_H_ORDER_READING, "bar %.20s: %s",
                   at->number, text);
}

static unsigned bits_of(const struct hbk_tune *tune, size_t bar)
{
    return tune->bars[bar].signs.bits;
}

/* Whether a coda sign stands in the bar, and not for To Coda itself. */
static bool has_coda(const struct hbk_tune *tune, size_t bar)
{
    const unsigned bits = bits_of(tune, bar);
    return (bits & (HBK_SIGN_CODA | HBK_SIGN_CODA_WITHIN)) != 0 &&
           (bits & HBK_SIGN_TO_CODA) == 0;
}

/* "al Fine" and "al Coda" that stand alone, without a D.C. or D.S. */
static unsigned settled(unsigned bits)
{
    if ((bits & HBK_SIGN_JUMP) == 0 && (bits & HBK_SIGN_AL_CODA) != 0) {
        bits |= HBK_SIGN_TO_CODA;
    }
    return bits;
}

/* The bar from whose end a bare coda sign in bar b says to go. */
static size_t leave_before(const struct hbk_tune *tune, size_t b)
{
    const bool is_within = (bits_of(tune, b) & HBK_SIGN_CODA_WITHIN) != 0;
    return is_within ? b : b == 0 ? HBK_TUNE_NONE : b - 1;
}

/* Coda signs alone: the first is where it is left, the last where it begins. */
static void read_coda_signs(struct hbk_build *build,
                            struct hbk_order_signs *signs)
{
    const struct hbk_tune *const tune = build->tune;
    size_t first = HBK_TUNE_NONE;
    size_t n = 0;
    for (size_t b = 0; b < tune->n_bars; b++) {
        if (has_coda(tune, b)) {
            first = n == 0 ? b : first;
            n++;
        }
    }
    if (n == 0 || (n == 1 && signs->jumps && first > signs->last_jump)) {
        return;
    }
    const size_t leave = leave_before(tune, first);
    if (leave == HBK_TUNE_NONE || (n == 1 && !signs->jumps)) {
        return;
    }
    signs->roles[leave] |= HBK_ROLE_LEAVE;
    signs->signs_alone = true;
    if (n > 2) {
        hbk_order_tell(build, first,
                       "one of %zu coda signs: the first is read as To Coda, "
                       "the last as the coda",
                       n);
    }
}

static bool is_repeated(const struct hbk_sections *sections, size_t b)
{
    return sections->times[sections->start[b]] > 1;
}

/* Fine and To Coda in a tune that has no D.C. or D.S. */
static void read_without_jumps(struct hbk_build *build,
                               const struct hbk_sections *sections,
                               struct hbk_order_signs *signs)
{
    const struct hbk_tune *const tune = build->tune;
    for (size_t b = 0; b < tune->n_bars; b++) {
        unsigned char *const role = &signs->roles[b];
        const char *const name =
            (*role & HBK_ROLE_FINE) != 0 ? "Fine" : "To Coda";
        const bool is_in_last =
            sections->end[sections->start[b]] == tune->n_bars;
        const bool counts = is_repeated(sections, b) &&
                            sections->passes[b] == 0 &&
                            (is_in_last || (*role & HBK_ROLE_FINE) == 0);
        if (*role == 0 || b + 1 == tune->n_bars) {
            *role = 0;
        } else if (counts) {
            signs->at_last_time = true;
            hbk_order_tell(build, b,
                           "%s without D.C. or D.S.: read as for the last time "
                           "through the repeat",
                           name);
        } else {
            *role = 0;
            hbk_order_tell(build, b,
                           "%s without D.C. or D.S.: the tune is played on",
                           name);
        }
    }
}

/* Whether a section ends with the bar, to the eye. */
static bool is_closed(const struct hbk_tune_bar *bar)
{
    return bar->repeat_end > 0 || bar->right == HBK_TUNE_BAR_DOUBLE ||
           bar->right == HBK_TUNE_BAR_FINAL;
}

/*
 * The bar at whose end a Fine is. One that is written over the first note after
 * a double bar is meant for the double bar.
 */
static size_t fine_of(struct hbk_build *build, size_t b)
{
    const struct hbk_tune_bar *const bar = &build->tune->bars[b];
    if ((bar->signs.bits & HBK_SIGN_FINE_FIRST) == 0 || bar->count < 2) {
        return b;
    }
    if (b > 0 && is_closed(bar - 1) && !is_closed(bar)) {
        hbk_order_tell(build, b,
                       "Fine stands over its first note, after a double bar, "
                       "and is read as at that double bar");
        return b - 1;
    }
    hbk_order_tell(build, b,
                   "Fine stands over its first note and is read as at its end");
    return b;
}

struct hbk_order_signs hbk_order_signs_of(struct hbk_build *build,
                                          const struct hbk_sections *sections)
{
    struct hbk_tune *const tune = build->tune;
    struct hbk_order_signs signs = {
        .roles = HBK_ARENA_ARRAY(build->arena, unsigned char, tune->n_bars + 1),
    };
    const unsigned ends = HBK_SIGN_AL_FINE | HBK_SIGN_AL_SEGNO;
    bool to_coda = false;
    for (size_t b = 0; b < tune->n_bars; b++) {
        struct hbk_tune_bar *const bar = &tune->bars[b];
        bar->signs.bits = settled(bar->signs.bits);
        const unsigned bits = bar->signs.bits;
        if ((bits & HBK_SIGN_JUMP) != 0) {
            signs.roles[b] |= HBK_ROLE_JUMP;
            signs.jumps = true;
            signs.last_jump = b;
        }
        if ((bits & HBK_SIGN_FINE) != 0) {
            signs.roles[fine_of(build, b)] |= HBK_ROLE_FINE;
        }
        signs.roles[b] |= (bits & HBK_SIGN_TO_CODA) != 0 ? HBK_ROLE_LEAVE : 0;
        to_coda = to_coda || (bits & HBK_SIGN_TO_CODA) != 0;
        if ((bits & HBK_SIGN_JUMP) == 0 && (bits & ends) != 0) {
            hbk_order_tell(build, b,
                           "al Fine without D.C. or D.S. is passed over");
        }
        if ((bits & HBK_SIGN_TO_CODA_FIRST) != 0 && bar->count > 1) {
            hbk_order_tell(build, b,
                           "To Coda stands over its first note and is read as "
                           "at its end");
        }
    }
    if (!to_coda) {
        read_coda_signs(build, &signs);
    }
    if (!signs.jumps) {
        read_without_jumps(build, sections, &signs);
    }
    return signs;
}

static bool is_named(const char *one, const char *other)
{
    return one != NULL && other != NULL && strcmp(one, other) == 0;
}

size_t hbk_order_back(struct hbk_build *build, size_t jump)
{
    const struct hbk_tune *const tune = build->tune;
    const struct hbk_tune_signs *const said = &tune->bars[jump].signs;
    if ((said->bits & HBK_SIGN_DAL_SEGNO) == 0) {
        return 0;
    }
    if ((said->bits & HBK_SIGN_DA_CAPO) != 0) {
        hbk_order_tell(build, jump, "D.C. and D.S. at once: read as D.S.");
    }
    size_t found = HBK_TUNE_NONE;
    bool by_name = false;
    for (size_t b = 0; b <= jump; b++) {
        const struct hbk_tune_signs *const here = &tune->bars[b].signs;
        const bool named = is_named(here->segno, said->dal_segno);
        if ((here->bits & HBK_SIGN_SEGNO) != 0 && (named || !by_name)) {
            found = b;
            by_name = named;
        }
    }
    if (found == HBK_TUNE_NONE) {
        hbk_order_tell(build, jump,
                       "D.S., but no segno stands before it: played from the "
                       "beginning, as D.C.");
        return 0;
    }
    if ((bits_of(tune, found) & HBK_SIGN_SEGNO_WITHIN) != 0) {
        hbk_order_tell(build, found,
                       "the segno stands within the bar; D.S. is read as going "
                       "to its beginning");
    }
    return found;
}

size_t hbk_order_coda(struct hbk_build *build,
                      const struct hbk_order_signs *signs, size_t leave,
                      size_t jump)
{
    const struct hbk_tune *const tune = build->tune;
    const char *const name = tune->bars[leave].signs.to_coda;
    const size_t from = jump == HBK_TUNE_NONE ? leave : jump;
    size_t after = HBK_TUNE_NONE; /* the first after the D.C. or D.S. */
    size_t last = HBK_TUNE_NONE;  /* the last after where it is left */
    for (size_t b = 0; b < tune->n_bars; b++) {
        const bool named = is_named(tune->bars[b].signs.coda, name);
        if (!has_coda(tune, b) || (b <= leave && !named)) {
            continue;
        }
        if (named) {
            return b;
        }
        if (signs->signs_alone && leave_before(tune, b) == leave) {
            continue; /* that is the sign it is left by */
        }
        after = b > from && after == HBK_TUNE_NONE ? b : after;
        last = b;
    }
    if (signs->signs_alone && last != HBK_TUNE_NONE) {
        return last;
    }
    if (after != HBK_TUNE_NONE) {
        return after;
    }
    if (last != HBK_TUNE_NONE) {
        return last;
    }
    if (jump != HBK_TUNE_NONE && jump + 1 < tune->n_bars) {
        hbk_order_tell(build, leave,
                       "To Coda, but no coda is marked: read as what follows "
                       "bar %.20s",
                       tune->bars[jump].number);
        return jump + 1;
    }
    return HBK_TUNE_NONE;
}

size_t hbk_order_segno(const struct hbk_tune *tune, size_t from)
{
    for (size_t b = from + 1; b < tune->n_bars; b++) {
        if ((bits_of(tune, b) & HBK_SIGN_SEGNO) != 0) {
            return b - 1;
        }
    }
    return HBK_TUNE_NONE;
}
