/*
 * How fast the air column is: prints figures and asserts nothing, since they
 * depend on the machine. The column is invented: 2.45 m, 40 stations, 12 keys,
 * of the size of an ophicleide in C.
 */
#include "acoustics/walk.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

enum { STATIONS = 40, KEYS = 12, STATES = 1 << KEYS, ROOM = 48 };

/* Room for every result, static so that it is no part of what is timed. */
static struct hbk_maximum maxima[STATES * ROOM];
static size_t counts[STATES];
static uint64_t words[STATES];

static double seconds(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (1e-9 * (double)now.tv_nsec);
}

/* A widening tube with a flare in its last fifth. */
static double radius_at(double x)
{
    const double cone = 0.0058 + (0.0235 * x / 2.45);
    const double y = 2.45 - x;
    return cone + (0.075 * exp(-y / 0.05));
}

static double station(size_t i)
{
    const double s = (double)i / (STATIONS - 1);
    return 2.45 * (1.0 - pow(1.0 - s, 1.6));
}

/* `slack`: every tube a site of its own that is always in. */
static struct hbk_chain column(struct hbk_arena *arena, bool slack)
{
    static const double at_m[KEYS] = {0.62, 0.75, 0.88, 1.01, 1.13, 1.25,
                                      1.37, 1.49, 1.62, 1.76, 1.93, 2.12};
    struct hbk_chain chain = {.arena = arena};
    double x = 0.0;
    size_t next = 1;
    unsigned tubes = KEYS;
    for (unsigned key = 0; key <= KEYS; key++) {
        const double stop = key < KEYS ? at_m[key] : 2.45;
        while (x < stop) {
            const double end =
                next < STATIONS ? fmin(station(next), stop) : stop;
            if (end > x + 0.004 || end >= stop) {
                const struct hbk_tube tube = {end - x, radius_at(x),
                                              radius_at(end)};
                if (slack) {
                    hbk_chain_add_loop(&chain, tubes++, tube);
                } else {
                    hbk_chain_add_tube(&chain, tube);
                }
                x = end;
            }
            next += next < STATIONS && station(next) <= end ? 1 : 0;
        }
        if (slack) {
            /* Holes take the bore from a tube: here from one of no length. */
            hbk_chain_add_tube(
                &chain, (struct hbk_tube){0.0, radius_at(x), radius_at(x)});
        }
        if (key < KEYS) {
            const struct hbk_side_hole hole = {
                .radius_m = 0.72 * fmin(radius_at(x), 0.02),
                .chimney_m = 0.005,
                .wall_m = 0.001,
                .pad_radius_m = 0.018,
                .pad_lift_m = 0.008};
            hbk_chain_add_hole(&chain, KEYS - 1 - key, &hole);
        }
    }
    return chain;
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
    const double start = seconds();
    options.states_max = n;
    if (hbk_sections_make(chain, air, &defaults, &arena, &sections) != HBK_OK) {
        hbk_arena_finish(&arena);
        return false;
    }
    struct hbk_walk *const walk = hbk_walk_make(&sections, &options, &arena);
    const double made = seconds();
    const bool done =
        hbk_walk_run(walk, n, words, ROOM, maxima, counts) == HBK_OK;
    const double end = seconds();
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

/* The best of several runs: the others were disturbed. */
static bool best_of(int runs, const struct hbk_chain *chain,
                    const struct hbk_air *air,
                    const struct hbk_walk_options *options, size_t n,
                    struct timing *best)
{
    for (int i = 0; i < runs; i++) {
        struct timing timing;
        if (!solve(chain, air, *options, n, &timing)) {
            return false;
        }
        if (i == 0 ||
            timing.make_s + timing.run_s < best->make_s + best->run_s) {
            *best = timing;
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
    const double start = seconds();
    for (size_t i = 0; i < PART; i++) {
        struct timing timing;
        words[0] = all[i];
        if (!solve(chain, air, options, 1, &timing)) {
            return false;
        }
    }
    words[0] = first;
    const double total = (seconds() - start) * STATES / PART;
    printf("%-46s %9.2f ms, ratio %.1f (measured on %d presses, scaled)\n",
           "press by press, every slice rebuilt", 1e3 * total,
           total / reference_s, PART);
    return true;
}

int main(void)
{
    struct hbk_arena arena = {NULL};
    struct hbk_air air;
    if (hbk_air_at(20.0, &air) != HBK_OK) {
        return 1;
    }
    const struct hbk_chain chain = column(&arena, false);
    const struct hbk_chain slack = column(&arena, true);
    const uint64_t tubes = ~((uint64_t)STATES - 1);
    for (size_t i = 0; i < STATES; i++) {
        words[i] = (uint64_t)i | tubes;
    }
    struct timing shared;
    struct timing other;
    struct hbk_walk_options options = {.threads = 1};
    if (!best_of(7, &chain, &air, &options, STATES, &shared)) {
        return 1;
    }
    const double reference = shared.make_s + shared.run_s;
    printf("%d keys, %d presses, %d stations, to 1400 Hz: %zu grid points, "
           "%zu maxima\n",
           KEYS, STATES, STATIONS, shared.points, shared.found);
    line("whole solve, one thread", &shared, STATES, reference);
    printf("%-46s %9.3f ns a press and frequency, %.2f MB\n", "",
           1e9 * shared.run_s / STATES / (double)shared.points,
           1e-6 * (double)shared.bytes);
    for (unsigned threads = 2; threads <= 4; threads *= 2) {
        options.threads = threads;
        char what[48];
        (void)snprintf(what, sizeof(what), "whole solve, %u threads", threads);
        if (!best_of(7, &chain, &air, &options, STATES, &other)) {
            return 1;
        }
        line(what, &other, STATES, reference);
    }
    options.threads = 1;
    options.without_sharing = true;
    if (!best_of(3, &chain, &air, &options, STATES, &other)) {
        return 1;
    }
    line("press by press, tubes between sites fused", &other, STATES,
         reference);
    if (!best_of(3, &slack, &air, &options, STATES, &other)) {
        return 1;
    }
    line("press by press, each tube's section cached", &other, STATES,
         reference);
    const bool done = rebuilding(&chain, &air, reference);
    hbk_arena_finish(&arena);
    return done ? 0 : 1;
}
