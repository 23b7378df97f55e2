#include "tune/melody/unfold.h"

#include "tune/melody/build.h"
#include "tune/melody/tune.h"

enum { PLAYED_MAX = 500000 };

/* Where the player is, and what came of it so far. */
struct walk {
    const struct hbk_tune *tune;
    const uint64_t *passes; /* by bar; 0 for bars outside endings */
    size_t start;           /* bar to which a repeat goes back */
    unsigned pass;          /* counted from 1 */
    size_t wanted_for;      /* the section that `wanted` was found for */
    unsigned wanted;
    double quarters; /* NAN for the written tempo */
    struct hbk_arena *arena;
    struct hbk_tune_performance *out;
    size_t room;
    size_t last_item, last_event; /* the last that is no grace note */
    struct hbk_ratio now;
    double now_s;
};

static uint64_t bit_of(unsigned pass)
{
    return pass >= 1 && pass <= 64 ? (uint64_t)1 << (pass - 1) : 0;
}

/* An ending lasts to its stop, the next ending or the next section. */
static uint64_t *spread_endings(const struct hbk_tune *tune,
                                struct hbk_arena *arena)
{
    uint64_t *const passes = HBK_ARENA_ARRAY(arena, uint64_t, tune->n_bars);
    uint64_t current = 0;
    for (size_t b = 0; b < tune->n_bars; b++) {
        const struct hbk_tune_bar *const bar = &tune->bars[b];
        if (bar->ending != NULL) {
            current = bar->ending_passes;
        } else if (bar->repeat_start) {
            current = 0;
        }
        passes[b] = current;
        if (bar->ending_stop) {
            current = 0;
        }
    }
    return passes;
}

/*
 * The last pass that the endings of the section from walk->start know; 0
 * without endings. Found once for each section, so that the walk stays linear.
 */
static unsigned passes_wanted(struct walk *walk)
{
    const struct hbk_tune *const tune = walk->tune;
    if (walk->wanted_for == walk->start) {
        return walk->wanted;
    }
    uint64_t all = 0;
    for (size_t i = walk->start; i < tune->n_bars; i++) {
        const bool is_new = i > walk->start && tune->bars[i].repeat_start;
        if (is_new || (all != 0 && walk->passes[i] == 0)) {
            break;
        }
        all |= walk->passes[i];
        if (all == 0 && tune->bars[i].repeat_end > 0) {
            break;
        }
    }
    walk->wanted = 0;
    while (all != 0) {
        walk->wanted++;
        all >>= 1;
    }
    walk->wanted_for = walk->start;
    return walk->wanted;
}

static bool play_event(struct walk *walk, size_t i)
{
    struct hbk_tune_performance *const out = walk->out;
    const struct hbk_tune_event *const event = &walk->tune->events[i];
    const double seconds = hbk_ratio_value(event->length) * 4.0 * 60.0 /
                           hbk_tune_quarters_at(walk->tune, i, walk->quarters);
    const struct hbk_tune_event *const last =
        walk->last_event == HBK_TUNE_NONE
            ? NULL
            : &walk->tune->events[walk->last_event];
    const bool is_tied = event->kind == HBK_TUNE_NOTE && last != NULL &&
                         last->tie_start && event->tie_stop &&
                         last->note == event->note;
    if (is_tied) {
        struct hbk_tune_played *const item = &out->items[walk->last_item];
        if (!hbk_ratio_add(item->length, event->length, &item->length)) {
            return false;
        }
        item->length_s += seconds;
    } else {
        if (out->n == PLAYED_MAX) {
            return false;
        }
        HBK_ARENA_GROW(walk->arena, out->items, out->n, walk->room);
        out->items[out->n] = (struct hbk_tune_played){
            .event = event->head,
            .onset = walk->now,
            .length = event->length,
            .onset_s = walk->now_s,
            .length_s = seconds,
        };
        out->n++;
    }
    if (event->kind != HBK_TUNE_GRACE) {
        walk->last_item = is_tied ? walk->last_item : out->n - 1;
        walk->last_event = i;
    }
    walk->now_s += seconds;
    return hbk_ratio_add(walk->now, event->length, &walk->now);
}

static bool play_bar(struct walk *walk, size_t b)
{
    const struct hbk_tune_bar *const bar = &walk->tune->bars[b];
    for (size_t i = bar->first; i < bar->first + bar->count; i++) {
        if (!play_event(walk, i)) {
            return false;
        }
    }
    return true;
}

/* The bar after bar b. */
static size_t next_bar(struct walk *walk, size_t b)
{
    const struct hbk_tune_bar *const bar = &walk->tune->bars[b];
    const bool in_ending = walk->passes[b] != 0;
    const unsigned wanted = in_ending ? passes_wanted(walk) : 0;
    const unsigned times = in_ending ? wanted : bar->repeat_end;
    if (bar->repeat_end > 0 && walk->pass < times) {
        walk->pass++;
        return walk->start;
    }
    if (bar->repeat_end > 0 ||
        (in_ending && bar->ending_stop && walk->pass >= wanted)) {
        walk->start = b + 1;
        walk->pass = 1;
    }
    return b + 1;
}

static bool walk_through(struct walk *walk)
{
    const struct hbk_tune *const tune = walk->tune;
    size_t furthest = 0;
    for (size_t b = 0; b < tune->n_bars;) {
        if (tune->bars[b].repeat_start && b >= furthest && b != walk->start) {
            walk->start = b;
            walk->pass = 1;
        }
        furthest = b > furthest ? b : furthest;
        const uint64_t passes = walk->passes[b];
        if (passes != 0 && (passes & bit_of(walk->pass)) == 0) {
            b++;
            continue;
        }
        if (!play_bar(walk, b)) {
            return false;
        }
        b = next_bar(walk, b);
    }
    return true;
}

enum hbk_status hbk_tune_unfold(const struct hbk_tune *tune, double quarters,
                                struct hbk_arena *arena,
                                struct hbk_tune_performance *out)
{
    struct hbk_tune_performance result = {
        .tempo_assumed = hbk_tune_is_tempo_assumed(tune, quarters),
    };
    struct walk walk = {
        .tune = tune,
        .passes = spread_endings(tune, arena),
        .pass = 1,
        .wanted_for = HBK_TUNE_NONE,
        .quarters = quarters,
        .arena = arena,
        .out = &result,
        .last_item = HBK_TUNE_NONE,
        .last_event = HBK_TUNE_NONE,
        .now = hbk_ratio_whole(0),
    };
    if (!walk_through(&walk)) {
        return HBK_ERR_DOMAIN;
    }
    *out = result;
    return HBK_OK;
}
