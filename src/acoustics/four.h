#ifndef HBK_ACOUSTICS_FOUR_H
#define HBK_ACOUSTICS_FOUR_H

#include <stdint.h>
#include <string.h>

/*
 * Four floats side by side, as acoustics/pair.h has two doubles: for the one
 * loop that counts and needs no more than seven figures.
 */
typedef float hbk_four __attribute__((vector_size(4 * sizeof(float))));

static inline hbk_four hbk_four_at(const float *x)
{
    hbk_four four;
    memcpy(&four, x, sizeof(four));
    return four;
}

static inline void hbk_four_put(hbk_four four, float *x)
{
    memcpy(x, &four, sizeof(four));
}

static inline hbk_four hbk_four_of(float x)
{
    return (hbk_four){x, x, x, x};
}

/* The lesser of two, side by side; of what is not a number, either. */
static inline hbk_four hbk_four_lesser(hbk_four x, hbk_four y)
{
    typedef int32_t sides __attribute__((vector_size(4 * sizeof(int32_t))));
    const sides first = x < y;
    return (hbk_four)((first & (sides)x) | (~first & (sides)y));
}

static inline hbk_four hbk_four_greater(hbk_four x, hbk_four y)
{
    return -hbk_four_lesser(-x, -y);
}

static inline float hbk_four_sum(hbk_four x)
{
    return (x[0] + x[1]) + (x[2] + x[3]);
}

#endif
