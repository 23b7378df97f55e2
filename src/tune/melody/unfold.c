#include "tune/melody/unfold.h"

#include "tune/melody/tune.h"

enum { PLAYED_MAX = 500000 };

/* Where the player is, and what came of it so far. */
struct walk {
    const struct hbk_tune *tune;
    double quarters; /* NAN for the written tempo */
    struct hbk_arena *arena;
    struct hbk_tune_performance *out;
    size_t room;
    size_t last_item, last_event; /* the last that is no grace note */
    struct hbk_ratio now;
    double now_s;
};

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

const bool *hbk_tune_played_bars(const struct hbk_tune *tune,
                                 struct hbk_arena *arena)
{
    bool *const played = HBK_ARENA_ARRAY(arena, bool, tune->n_bars + 1);
    for (size_t i = 0; i < tune->order.n; i++) {
        const struct hbk_tune_stretch *const at = &tune->order.stretches[i];
        for (size_t b = at->first; b <= at->last; b++) {
            played[b] = true;
        }
    }
    return played;
}

static bool walk_through(struct walk *walk)
{
    const struct hbk_tune_order *const order = &walk->tune->order;
    for (size_t i = 0; i < order->n; i++) {
        const struct hbk_tune_stretch *const stretch = &order->stretches[i];
        for (size_t b = stretch->first; b <= stretch->last; b++) {
            if (!play_bar(walk, b)) {
                return false;
            }
        }
    }
    walk->out->n_unplayed = walk->out->n;
    const bool *const played = hbk_tune_played_bars(walk->tune, walk->arena);
    walk->last_event = HBK_TUNE_NONE;
    for (size_t b = 0; b < walk->tune->n_bars; b++) {
        if (!played[b] && !play_bar(walk, b)) {
            return false;
        }
    }
    const size_t all = walk->out->n;
    walk->out->n = walk->out->n_unplayed;
    walk->out->n_unplayed = all - walk->out->n;
    return !order->too_long;
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
