#include "tune/melody/order_walk.h"

#include "base/messages.h"
#include "tune/melody/sign_words.h"

/*
 * D.C. and D.S. are taken once each, after the repeats that end with them, and
 * repeats are not taken again in the music that comes back. Both are the
 * custom; no source.
 */

enum { STEPS_MAX = 20000000 };

static uint64_t bit_of(unsigned pass)
{
    return pass >= 1 && pass <= 64 ? (uint64_t)1 << (pass - 1) : 0;
}

static unsigned bits_at(const struct hbk_order_walk *walk, size_t bar)
{
    return walk->tune->bars[bar].signs.bits;
}

static unsigned role_of(const struct hbk_order_walk *walk, size_t bar)
{
    return walk->signs == NULL ? 0 : walk->signs->roles[bar];
}

static unsigned ends_meant(const struct hbk_order_walk *walk)
{
    return bits_at(walk, walk->jump) &
           (HBK_SIGN_AL_FINE | HBK_SIGN_AL_CODA | HBK_SIGN_AL_SEGNO);
}

/* Whether the piece ends with a Fine at the end of bar b. */
static bool fine_counts(const struct hbk_order_walk *walk, size_t b)
{
    if ((role_of(walk, b) & HBK_ROLE_FINE) == 0) {
        return false;
    }
    if (walk->jump != HBK_TUNE_NONE) {
        const unsigned ends = ends_meant(walk);
        return ends == 0 || (ends & HBK_SIGN_AL_FINE) != 0;
    }
    if (walk->has_jumped) {
        const size_t last = walk->signs->last_jump;
        return b > last || (b == last && walk->taken[b]);
    }
    return walk->signs->at_last_time;
}

/* Whether it goes on with the coda after bar b. */
static bool leaves(const struct hbk_order_walk *walk, size_t b)
{
    if (b == walk->segno) {
        return true;
    }
    if ((role_of(walk, b) & HBK_ROLE_LEAVE) == 0) {
        return false;
    }
    if (walk->jump == HBK_TUNE_NONE) {
        return walk->signs->at_last_time;
    }
    const unsigned ends = ends_meant(walk);
    return ends == 0 || (ends & HBK_SIGN_AL_CODA) != 0;
}

/*
 * The time through a section that is played where repeats are not taken: the
 * last, unless what is to be met stands in an ending before it.
 */
static unsigned only_pass(const struct hbk_order_walk *walk)
{
    if (walk->forced > 0) {
        return walk->forced;
    }
    const struct hbk_sections *const sections = walk->sections;
    const unsigned last = sections->times[walk->section];
    for (size_t b = walk->section; b < sections->end[walk->section]; b++) {
        const uint64_t passes = sections->passes[b];
        if (passes != 0 && (passes & bit_of(last)) == 0 &&
            (fine_counts(walk, b) || leaves(walk, b))) {
            return hbk_sections_last(passes);
        }
    }
    return last;
}

static void enter(struct hbk_order_walk *walk, size_t bar)
{
    walk->section = walk->sections->start[bar];
    walk->pass = walk->once ? only_pass(walk) : 1;
}

/* The same by a sign that leads to the bar: it is played, whatever ending. */
static void enter_by_sign(struct hbk_order_walk *walk, size_t bar)
{
    const uint64_t passes = walk->sections->passes[bar];
    enter(walk, bar);
    if (passes != 0 && (passes & bit_of(walk->pass)) == 0) {
        walk->pass = hbk_sections_last(passes);
    }
}

/* No D.C. or D.S. is being followed any more. */
static void end_jump(struct hbk_order_walk *walk)
{
    if (walk->left_out) {
        const struct hbk_tune_bar *const bar = &walk->tune->bars[walk->jump];
        char sign[HBK_SIGN_TEXT];
        walk->build->tune->order.repeats_left_out = true;
        hbk_build_warn(walk->build, bar->place, HBK_H_REPEATS_LEFT_OUT,
                       "bar %.20s: after %s repeats are not taken again, as is "
                       "the custom; write \"with repeats\" if they are",
                       bar->number, hbk_sign_text(bar->signs.bits, sign));
    }
    walk->jump = HBK_TUNE_NONE;
    walk->segno = HBK_TUNE_NONE;
    walk->once = false;
    walk->left_out = false;
}

/* Whether a Fine or To Coda that counts stands after bar b. */
static bool comes_later(const struct hbk_order_walk *walk, size_t b,
                        unsigned role)
{
    for (size_t i = b + 1; i < walk->tune->n_bars; i++) {
        if ((role_of(walk, i) & role) != 0) {
            return true;
        }
    }
    return false;
}

/* It was followed to where it stands, and what it names was not met. */
static void miss_end(struct hbk_order_walk *walk)
{
    const unsigned ends = ends_meant(walk);
    char sign[HBK_SIGN_TEXT];
    hbk_sign_text(bits_at(walk, walk->jump), sign);
    const bool to_fine = ends == 0 || (ends & HBK_SIGN_AL_FINE) != 0;
    if (to_fine && comes_later(walk, walk->until, HBK_ROLE_FINE)) {
        end_jump(walk); /* which is met after all */
        return;
    }
    if (ends == 0 && walk->until + 1 < walk->tune->n_bars) {
        hbk_order_tell(walk->build, walk->jump,
                       "%s, and no Fine is met: played on to the end", sign);
    } else if (ends != 0) {
        hbk_order_tell(walk->build, walk->jump,
                       "%s, but no %s is met: played on to the end", sign,
                       (ends & HBK_SIGN_AL_FINE) != 0   ? "Fine"
                       : (ends & HBK_SIGN_AL_CODA) != 0 ? "To Coda"
                                                        : "segno");
    }
    end_jump(walk);
}

/* Follows the D.C. or D.S. of bar b; false if that was done or is too much. */
static bool take_jump(struct hbk_order_walk *walk, size_t b, size_t *next)
{
    if (walk->taken[b]) {
        return false;
    }
    walk->taken[b] = true;
    walk->n_jumps++;
    if (walk->n_jumps > HBK_ORDER_JUMPS_MAX) {
        if (walk->n_jumps == HBK_ORDER_JUMPS_MAX + 1) {
            hbk_order_tell(walk->build, b,
                           "more than %d D.C. and D.S.; the others are not "
                           "followed",
                           HBK_ORDER_JUMPS_MAX);
        }
        return false;
    }
    if (walk->jump != HBK_TUNE_NONE) {
        end_jump(walk);
    }
    const unsigned bits = bits_at(walk, b);
    *next = hbk_order_back(walk->build, b);
    walk->until = b > walk->until ? b : walk->until;
    walk->jump = b;
    walk->has_jumped = true;
    walk->once = (bits & HBK_SIGN_WITH_REPEATS) == 0;
    walk->segno = (bits & HBK_SIGN_AL_SEGNO) == 0
                      ? HBK_TUNE_NONE
                      : hbk_order_segno(walk->tune, *next);
    walk->way = HBK_WAY_JUMP;
    enter_by_sign(walk, *next);
    return true;
}

/* Goes on with the coda, from the end of bar b; false if there is none. */
static bool take_coda(struct hbk_order_walk *walk, size_t b, size_t *next)
{
    const size_t coda = hbk_order_coda(walk->build, walk->signs, b, walk->jump);
    if (coda == HBK_TUNE_NONE) {
        if (b != walk->segno) {
            hbk_order_tell(walk->build, b,
                           "To Coda, but there is no coda: played on");
        }
        return false;
    }
    if (walk->jump != HBK_TUNE_NONE) {
        end_jump(walk);
    }
    *next = coda;
    walk->way = HBK_WAY_CODA;
    walk->has_jumped = true;
    enter_by_sign(walk, coda);
    return true;
}

/* Whether it is the last time that bar b is played in its section. */
static bool is_last_time(const struct hbk_order_walk *walk, size_t b)
{
    const uint64_t passes = walk->sections->passes[b];
    const unsigned last = passes != 0 ? hbk_sections_last(passes)
                                      : walk->sections->times[walk->section];
    return walk->once || walk->pass >= last;
}

/* The piece ends here. */
static void stop(struct hbk_order_walk *walk, size_t end, size_t *next)
{
    if (walk->jump != HBK_TUNE_NONE) {
        end_jump(walk);
    }
    *next = end;
}

/* Where signs lead from the end of bar b; false where they lead nowhere. */
static bool follow(struct hbk_order_walk *walk, size_t b, size_t end,
                   size_t *next)
{
    if (walk->signs == NULL || !is_last_time(walk, b)) {
        return false;
    }
    if (fine_counts(walk, b)) {
        const bool goes_on = walk->jump != HBK_TUNE_NONE &&
                             (ends_meant(walk) & HBK_SIGN_AL_CODA) != 0;
        if (goes_on && take_coda(walk, b, next)) {
            return true; /* "al Fine e poi la Coda" */
        }
        stop(walk, end, next);
        return true;
    }
    if (leaves(walk, b)) {
        if (take_coda(walk, b, next)) {
            return true;
        }
        if (b == walk->segno) {
            stop(walk, end, next);
            return true;
        }
    }
    return (role_of(walk, b) & HBK_ROLE_JUMP) != 0 && take_jump(walk, b, next);
}

/* Whether an ending that is not the last stops here without a repeat sign. */
static bool lacks_repeat(const struct hbk_order_walk *walk, size_t b,
                         size_t end)
{
    const uint64_t *const passes = walk->sections->passes;
    return passes[b] != 0 && b + 1 < end &&
           walk->sections->start[b + 1] == walk->section &&
           walk->tune->bars[b + 1].ending != NULL &&
           (passes[b + 1] & bit_of(walk->pass)) == 0;
}

/* The bar after bar b, `end` where the piece ends. */
static size_t next_bar(struct hbk_order_walk *walk, size_t b, size_t end)
{
    const struct hbk_tune_bar *const bar = &walk->tune->bars[b];
    size_t next = b + 1;
    if (follow(walk, b, end, &next)) {
        return next;
    }
    const unsigned times = walk->sections->times[walk->section];
    const bool lacks = bar->repeat_end == 0 && lacks_repeat(walk, b, end);
    if (bar->repeat_end == 0 && !lacks) {
        return next;
    }
    if (walk->once) {
        walk->left_out = walk->left_out || walk->jump != HBK_TUNE_NONE;
        return next;
    }
    if (walk->pass >= times) {
        return next;
    }
    if (lacks) {
        hbk_build_warn(walk->build, bar->place, HBK_H_REPEAT_SIGN,
                       "bar %.20s: an ending without a repeat sign is read as "
                       "if it had one",
                       bar->number);
    }
    walk->pass++;
    walk->way = HBK_WAY_REPEAT;
    return walk->section;
}

static void add_bar(struct hbk_order_walk *walk, size_t b)
{
    struct hbk_tune_stretch *const last =
        walk->n == 0 ? NULL : &walk->stretches[walk->n - 1];
    walk->n_bars++;
    const bool goes_on = walk->way == HBK_WAY_ENDING; /* or as written */
    if (last != NULL && goes_on && last->last + 1 == b) {
        last->last = b;
    } else {
        HBK_ARENA_GROW(walk->build->arena, walk->stretches, walk->n,
                       walk->room);
        walk->stretches[walk->n++] = (struct hbk_tune_stretch){
            .first = b,
            .last = b,
            .way = walk->way,
            .signs = walk->way == HBK_WAY_JUMP ? bits_at(walk, walk->jump) : 0,
            .part = walk->part};
    }
    walk->way = HBK_WAY_ENDING; /* unless what follows says otherwise */
}

void hbk_order_play(struct hbk_order_walk *walk, size_t first, size_t end)
{
    const struct hbk_sections *const sections = walk->sections;
    enter(walk, first);
    for (size_t b = first; b < end && !walk->too_long;) {
        walk->too_long =
            ++walk->n_steps > STEPS_MAX || walk->n_bars == HBK_ORDER_BARS_MAX;
        if (walk->jump != HBK_TUNE_NONE && b > walk->until) {
            miss_end(walk);
        }
        if (sections->start[b] != walk->section) {
            enter(walk, b);
        }
        const uint64_t passes = sections->passes[b];
        if (passes != 0 && (passes & bit_of(walk->pass)) == 0) {
            const bool repeats = walk->tune->bars[b].repeat_end > 0;
            walk->left_out = walk->left_out || (repeats && walk->once &&
                                                walk->jump != HBK_TUNE_NONE);
            b++;
            continue;
        }
        add_bar(walk, b);
        b = next_bar(walk, b, end);
    }
    if (walk->jump != HBK_TUNE_NONE) {
        miss_end(walk);
    }
}
