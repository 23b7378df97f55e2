#ifndef HBK_TESTS_TWELVE_KEYS_H
#define HBK_TESTS_TWELVE_KEYS_H

#include "acoustics/chain.h"

#include <math.h>

/*
 * An invented column of the size of an ophicleide in C: 2.45 m, 40 stations,
 * 12 keys, key 0 nearest the bell.
 */
enum { TWELVE_STATIONS = 40, TWELVE_KEYS = 12 };

/* A widening tube with a flare in its last fifth. */
static inline double twelve_radius(double x)
{
    const double cone = 0.0058 + (0.0235 * x / 2.45);
    const double y = 2.45 - x;
    return cone + (0.075 * exp(-y / 0.05));
}

static inline double twelve_station(size_t i)
{
    const double s = (double)i / (TWELVE_STATIONS - 1);
    return 2.45 * (1.0 - pow(1.0 - s, 1.6));
}

/* `slack`: every tube a site of its own that is always in. */
static inline struct hbk_chain twelve_keys(struct hbk_arena *arena, bool slack)
{
    static const double at_m[TWELVE_KEYS] = {
        0.62, 0.75, 0.88, 1.01, 1.13, 1.25, 1.37, 1.49, 1.62, 1.76, 1.93, 2.12};
    struct hbk_chain chain = {.arena = arena};
    double x = 0.0;
    size_t next = 1;
    unsigned tubes = TWELVE_KEYS;
    for (unsigned key = 0; key <= TWELVE_KEYS; key++) {
        const double stop = key < TWELVE_KEYS ? at_m[key] : 2.45;
        while (x < stop) {
            const double end = next < TWELVE_STATIONS
                                   ? fmin(twelve_station(next), stop)
                                   : stop;
            if (end > x + 0.004 || end >= stop) {
                const struct hbk_tube tube = {end - x, twelve_radius(x),
                                              twelve_radius(end)};
                if (slack) {
                    hbk_chain_add_loop(&chain, tubes++, tube);
                } else {
                    hbk_chain_add_tube(&chain, tube);
                }
                x = end;
            }
            next +=
                next < TWELVE_STATIONS && twelve_station(next) <= end ? 1 : 0;
        }
        if (slack) {
            /* Holes take the bore from a tube: here from one of no length. */
            hbk_chain_add_tube(&chain, (struct hbk_tube){0.0, twelve_radius(x),
                                                         twelve_radius(x)});
        }
        if (key < TWELVE_KEYS) {
            const struct hbk_side_hole hole = {
                .radius_m = 0.72 * fmin(twelve_radius(x), 0.02),
                .chimney_m = 0.005,
                .wall_m = 0.001,
                .pad_radius_m = 0.018,
                .pad_lift_m = 0.008};
            hbk_chain_add_hole(&chain, TWELVE_KEYS - 1 - key, &hole);
        }
    }
    return chain;
}

#endif
