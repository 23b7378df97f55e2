/*
 * How fast the air column is: prints figures and asserts nothing, since they
 * depend on the machine.
 */
#include "support/twelve_keys.h"

#include "acoustics/ear.h"
#include "acoustics/walk.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

enum { KEYS = TWELVE_KEYS, STATES = 1 << KEYS, ROOM = 48 };

/* Room for every result, static so that it is no part of what is timed. */
static struct hbk_maximum maxima[STATES * ROOM];
static size_t counts[STATES];
static uint64_t words[STATES];

/* Of one thread its own time, so that other work on the machine hardly shows.
 */
static double seconds(unsigned threads)
{
    struct timespec now;
    (void)clock_gettime(threads > 1 ? CLOCK_MONOTONIC : CLOCK_THREAD_CPUTIME_ID,
                        &now);
    return (double)now.tv_sec + (1e-9 * (double)now.tv_nsec);
}

struct timing {
    double make_s, run_s;
    size_t points, steps, bytes, found;
};

static bool solve(const struct hbk_chain *chain, const struct hbk_air *air,
                  struct hbk_walk_options options, size_t n,
                  struct timing *timing)
{
    static const struct hbk_sections_options defaults = {.limit_hz = 1400.0};
    struct hbk_arena arena = {NULL};
    struct hbk_sections sections;
    const double start = seconds(options.threads);
    options.states_max = n;
    if (hbk_sections_make(chain, air, &defaults, &arena, &sections) != HBK_OK) {
        hbk_arena_finish(&arena);
        return false;
    }
    struct hbk_walk *const walk = hbk_walk_make(&sections, &options, &arena);
    const double made = seconds(options.threads);
    const bool done =
        hbk_walk_run(walk, n, words, ROOM, maxima, counts) == HBK_OK;
    const double end = seconds(options.threads);
    timing->make_s = made - start;
    timing->run_s = end - made;
    timing->points = sections.n;
    timing->steps = hbk_walk_steps(walk);
    timing->bytes = sections.bytes + hbk_walk_bytes(walk);
    timing->found = 0;
    for (size_t i = 0; i < n; i++) {
        timing->found += counts[i];
    }
    hbk_arena_finish(&arena);
    return done;
}

/* One way of solving; the best of several runs: the others were disturbed. */
struct way {
    const char *what;
    const struct hbk_chain *chain;
    struct hbk_walk_options options;
    struct timing best;
};

enum { ROUNDS = 15 };

/* The ways in turn, so that what disturbs one disturbs all. */
static bool best_of(const struct hbk_air *air, size_t n, struct way ways[])
{
    for (int round = 0; round < ROUNDS; round++) {
        for (size_t w = 0; w < n; w++) {
            struct timing timing;
            struct timing *const best = &ways[w].best;
            if (!solve(ways[w].chain, air, ways[w].options, STATES, &timing)) {
                return false;
            }
            if (round == 0 ||
                timing.make_s + timing.run_s < best->make_s + best->run_s) {
                *best = timing;
            }
        }
    }
    return true;
}

static void line(const char *what, const struct timing *timing, size_t n,
                 double reference_s)
{
    const double total = timing->make_s + timing->run_s;
    printf("%-46s %9.2f ms (%.2f + %.2f), ratio %.2f, %.2f us a press, "
           "%zu steps\n",
           what, 1e3 * total, 1e3 * timing->make_s, 1e3 * timing->run_s,
           reference_s > 0.0 ? total / reference_s : 1.0,
           1e6 * timing->run_s / (double)n, timing->steps);
}

/* Sections made anew for each press, on a part of the presses, scaled. */
static bool rebuilding(const struct hbk_chain *chain, const struct hbk_air *air,
                       double reference_s)
{
    enum { PART = 64 };
    const struct hbk_walk_options options = {.threads = 1};
    uint64_t all[PART];
    for (size_t i = 0; i < PART; i++) {
        all[i] = words[i * (STATES / PART)];
    }
    const uint64_t first = words[0];
    const double start = seconds(options.threads);
    for (size_t i = 0; i < PART; i++) {
        struct timing timing;
        words[0] = all[i];
        if (!solve(chain, air, options, 1, &timing)) {
            return false;
        }
    }
    words[0] = first;
    const double total = (seconds(1) - start) * STATES / PART;
    printf("%-46s %9.2f ms, ratio %.1f (measured on %d presses, scaled)\n",
           "press by press, every slice rebuilt", 1e3 * total,
           total / reference_s, PART);
    return true;
}

/* What of it the pitch takes that is heard, from the maxima there are. */
static void hearing(double reference_s)
{
    double best_s = HUGE_VAL;
    for (int round = 0; round < ROUNDS; round++) {
        const double start = seconds(1);
        for (size_t i = 0; i < STATES; i++) {
            hbk_ear_hear(counts[i], maxima + (i * ROOM), 1400.0);
        }
        best_s = fmin(best_s, seconds(1) - start);
    }
    printf("%-46s %9.2f ms, %.2f us a press, %.0f %% of the rest\n",
           "of it the pitch that is heard", 1e3 * best_s, 1e6 * best_s / STATES,
           100.0 * best_s / (reference_s - best_s));
}

int main(void)
{
    struct hbk_arena arena = {NULL};
    struct hbk_air air;
    if (hbk_air_at(20.0, &air) != HBK_OK) {
        return 1;
    }
    const struct hbk_chain chain = twelve_keys(&arena, false);
    const struct hbk_chain slack = twelve_keys(&arena, true);
    const uint64_t tubes = ~((uint64_t)STATES - 1);
    for (size_t i = 0; i < STATES; i++) {
        words[i] = (uint64_t)i | tubes;
    }
    struct way ways[] = {
        {.what = "whole solve, one thread", &chain, {.threads = 1}},
        {.what = "whole solve, 2 threads", &chain, {.threads = 2}},
        {.what = "whole solve, 4 threads", &chain, {.threads = 4}},
        {.what = "press by press, tubes between sites fused",
         &chain,
         {.threads = 1, .without_sharing = true}},
        {.what = "press by press, each tube's section cached",
         &slack,
         {.threads = 1, .without_sharing = true}},
    };
    enum { WAYS = sizeof(ways) / sizeof(ways[0]) };
    if (!best_of(&air, WAYS, ways)) {
        return 1;
    }
    const struct timing *const shared = &ways[0].best;
    const double reference = shared->make_s + shared->run_s;
    printf("%d keys, %d presses, %d stations, to 1400 Hz: %zu grid points, "
           "%zu maxima; the best of %d rounds, of one thread its own time\n",
           KEYS, STATES, TWELVE_STATIONS, shared->points, shared->found,
           ROUNDS);
    hearing(reference);
    for (size_t w = 0; w < WAYS; w++) {
        line(ways[w].what, &ways[w].best, STATES, reference);
    }
    printf("%-46s %9.3f ns a press and frequency, %.2f MB\n", "",
           1e9 * shared->run_s / STATES / (double)shared->points,
           1e-6 * (double)shared->bytes);
    const bool done = rebuilding(&chain, &air, reference);
    hbk_arena_finish(&arena);
    return done ? 0 : 1;
}
