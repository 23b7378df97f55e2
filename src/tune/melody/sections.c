#include "tune/melody/sections.h"

#include "tune/melody/build.h"

unsigned hbk_sections_last(uint64_t passes)
{
    unsigned last = 0;
    while (passes != 0) {
        last++;
        passes >>= 1;
    }
    return last;
}

/* An ending lasts to its stop, the next ending or the next section. */
static uint64_t *spread_endings(const struct hbk_tune *tune,
                                struct hbk_arena *arena)
{
    uint64_t *const passes = HBK_ARENA_ARRAY(arena, uint64_t, tune->n_bars + 1);
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
 * A second ending with which a section begins counts the times of the one
 * before, and is played whenever its own is.
 */
static void free_ending(const struct hbk_tune *tune, uint64_t passes[],
                        size_t b)
{
    do {
        passes[b] = 0;
        b++;
    } while (b < tune->n_bars && passes[b] != 0 &&
             tune->bars[b].ending == NULL);
}

/* Whether a section ends with bar b; `seen` are its passes in endings so far.
 */
static bool ends_with(const struct hbk_tune *tune, const uint64_t passes[],
                      size_t b, uint64_t seen)
{
    if (b + 1 == tune->n_bars || tune->bars[b + 1].repeat_start ||
        (tune->form != NULL && tune->bars[b + 1].part != 0)) {
        return true;
    }
    if (passes[b + 1] == 0) {
        return passes[b] != 0 || tune->bars[b].repeat_end > 0;
    }
    /* Endings that are numbered from the beginning again. */
    const uint64_t next = passes[b + 1];
    return tune->bars[b + 1].ending != NULL && (next & 1) != 0 &&
           (next & ~seen) == 0;
}

/* How often the section with these endings is played that ends with bar b. */
static unsigned times_of(const struct hbk_tune *tune, size_t b, uint64_t seen,
                         size_t n_endings)
{
    const unsigned repeat = tune->bars[b].repeat_end;
    if (seen == 0) {
        return repeat > 0 ? repeat : 1;
    }
    /* A first ending alone: what follows it stands for the second. */
    const unsigned last = hbk_sections_last(seen);
    return n_endings == 1 && repeat > 0 && last < HBK_BUILD_TIMES_MAX ? last + 1
                                                                      : last;
}

struct hbk_sections hbk_sections_of(const struct hbk_tune *tune,
                                    struct hbk_arena *arena)
{
    const size_t n = tune->n_bars;
    uint64_t *const passes = spread_endings(tune, arena);
    size_t *const start = HBK_ARENA_ARRAY(arena, size_t, n + 1);
    size_t *const end = HBK_ARENA_ARRAY(arena, size_t, n + 1);
    unsigned *const times = HBK_ARENA_ARRAY(arena, unsigned, n + 1);
    size_t from = 0;
    uint64_t seen = 0;
    size_t n_endings = 0;
    for (size_t b = 0; b < n; b++) {
        if (b == from && (passes[b] & 1) == 0) {
            free_ending(tune, passes, b);
        }
        start[b] = from;
        seen |= passes[b];
        n_endings += passes[b] != 0 && tune->bars[b].ending != NULL ? 1 : 0;
        if (ends_with(tune, passes, b, seen)) {
            times[from] = times_of(tune, b, seen, n_endings);
            end[from] = b + 1;
            from = b + 1;
            seen = 0;
            n_endings = 0;
        }
    }
    return (struct hbk_sections){
        .start = start, .times = times, .passes = passes, .end = end};
}
