#ifndef HBK_TESTS_RNG_H
#define HBK_TESTS_RNG_H

#include <math.h>
#include <stdint.h>

/* The same numbers from the same seed on every machine (splitmix64). */
struct rng {
    uint64_t state;
};

static inline uint64_t rng_next(struct rng *rng)
{
    uint64_t z = rng->state += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return z ^ (z >> 31);
}

/* Evenly from 0 (left out) to 1. */
static inline double rng_unit(struct rng *rng)
{
    return ((double)(rng_next(rng) >> 11) + 1.0) / 9007199254740992.0;
}

/* Normal with mean 0 and standard deviation 1 (Box and Muller). */
static inline double rng_normal(struct rng *rng)
{
    const double turn = 6.28318530717958647693;
    const double radius = sqrt(-2.0 * log(rng_unit(rng)));
    return radius * cos(turn * rng_unit(rng));
}

#endif
