#include "passage/timing.h"

#include <math.h>

/* Which notes are under a slur that goes on to the next one. */
static bool *slurs_of(const struct hbk_tune *tune, struct hbk_arena *arena)
{
    bool *const slurred = HBK_ARENA_ARRAY(arena, bool, tune->n_events + 1);
    size_t open = 0;
    for (size_t i = 0; i < tune->n_events; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        open += event->slur_starts;
        open -= event->slur_stops < open ? event->slur_stops : open;
        slurred[i] = open > 0;
    }
    return slurred;
}

/*
 * A tied note is slurred on if its last piece is. Pieces follow their head,
 * so the last one met decides.
 */
static void slurs_of_heads(const struct hbk_tune *tune, bool slurred[])
{
    for (size_t i = 0; i < tune->n_events; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        if (event->kind == HBK_TUNE_NOTE && event->head < i) {
            slurred[event->head] = slurred[i];
        }
    }
}

/* When each item begins and how long it sounds, grace notes made room for. */
struct times {
    double *start_s, *length_s;
};

static bool is_grace(const struct hbk_tune *tune,
                     const struct hbk_tune_performance *performance, size_t i)
{
    return tune->events[performance->items[i].event].kind == HBK_TUNE_GRACE;
}

static struct times times_of(const struct hbk_tune *tune,
                             const struct hbk_tune_performance *performance,
                             struct hbk_arena *arena)
{
    const size_t n = performance->n + performance->n_unplayed;
    const struct times times = {
        .start_s = HBK_ARENA_ARRAY(arena, double, n + 1),
        .length_s = HBK_ARENA_ARRAY(arena, double, n + 1)};
    double before_s = INFINITY; /* length of what stands before */
    for (size_t i = 0; i < n;) {
        size_t end = i;
        while (end < n && is_grace(tune, performance, end)) {
            end++;
        }
        const double count = (double)(end - i);
        const double each_s =
            fmin(HBK_TIMING_GRACE_S, HBK_TIMING_GRACE_SHARE * before_s / count);
        for (size_t g = i; g < end; g++) {
            times.start_s[g] =
                performance->items[g].onset_s - (each_s * (double)(end - g));
            times.length_s[g] = each_s;
        }
        if (end < n) {
            before_s = performance->items[end].length_s;
            times.start_s[end] = performance->items[end].onset_s;
            times.length_s[end] = before_s;
        }
        i = end + 1;
    }
    return times;
}

/*
 * To the nanosecond, so that the same rhythm gives the same number wherever
 * in the tune it stands.
 */
static double rounded(double time_s)
{
    return round(fmax(time_s, 0.0) * 1e9) / 1e9;
}

static double share_of(const struct hbk_tune_event *from, bool slurred)
{
    const unsigned shorts = HBK_TUNE_STACCATO | HBK_TUNE_STACCATISSIMO |
                            HBK_TUNE_BREATH | HBK_TUNE_CAESURA;
    if ((from->articulation & HBK_TUNE_FERMATA) != 0) {
        return HBK_TIMING_FERMATA;
    }
    if (slurred) {
        return HBK_TIMING_SLURRED;
    }
    return (from->articulation & shorts) != 0 ? HBK_TIMING_STACCATO : 1.0;
}

struct hbk_timing hbk_timing_of(const struct hbk_tune *tune,
                                const struct hbk_tune_performance *performance,
                                double quarters, const bool sounds[],
                                struct hbk_arena *arena)
{
    struct hbk_timing timing = {0};
    bool *const slurred = slurs_of(tune, arena);
    slurs_of_heads(tune, slurred);
    const struct times times = times_of(tune, performance, arena);
    const size_t n = performance->n + performance->n_unplayed;
    struct hbk_sounded *const sounded =
        HBK_ARENA_ARRAY(arena, struct hbk_sounded, n + 1);
    struct hbk_junction *const junctions =
        HBK_ARENA_ARRAY(arena, struct hbk_junction, n + 1);
    size_t last = HBK_TUNE_NONE;
    bool rested = false;
    for (size_t i = 0; i < n; i++) {
        const size_t event = performance->items[i].event;
        last = i == performance->n ? HBK_TUNE_NONE : last; /* never played */
        const struct hbk_tune_event *const to = &tune->events[event];
        if (to->kind == HBK_TUNE_REST || !sounds[event]) {
            rested = true;
            continue;
        }
        sounded[timing.n_sounded++] =
            (struct hbk_sounded){.event = event,
                                 .start_s = times.start_s[i],
                                 .length_s = times.length_s[i]};
        if (last != HBK_TUNE_NONE) {
            const size_t before = performance->items[last].event;
            const struct hbk_tune_event *const from = &tune->events[before];
            const bool grace =
                from->kind == HBK_TUNE_GRACE || to->kind == HBK_TUNE_GRACE;
            const bool is_slurred =
                !rested && before < event &&
                (slurred[before] || from->kind == HBK_TUNE_GRACE);
            junctions[timing.n_junctions++] = (struct hbk_junction){
                .from = before,
                .to = event,
                .available_s =
                    rounded((times.start_s[i] - times.start_s[last]) *
                            share_of(from, is_slurred)),
                .quarters = hbk_tune_quarters_at(tune, before, quarters),
                .slurred = is_slurred,
                .grace = grace,
            };
        }
        last = i;
        rested = false;
    }
    timing.sounded = sounded;
    timing.junctions = junctions;
    return timing;
}
