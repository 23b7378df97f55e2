#ifndef HBK_ACOUSTICS_PAIR_H
#define HBK_ACOUSTICS_PAIR_H

#include <stdint.h>
#include <string.h>

/*
 * Two doubles side by side, which one vector instruction of any processor of
 * the last twenty years works on: for the few loops of the search that a
 * compiler does not make vector instructions of by itself. (An extension that
 * gcc and clang share.) The arithmetic is that of two doubles.
 */
typedef double hbk_pair __attribute__((vector_size(2 * sizeof(double))));

/* The outcome of comparing two pairs: every bit of a side, or none. */
typedef int64_t hbk_sides __attribute__((vector_size(2 * sizeof(int64_t))));

static inline hbk_pair hbk_pair_at(const double *x)
{
    hbk_pair pair;
    memcpy(&pair, x, sizeof(pair));
    return pair;
}

static inline void hbk_pair_put(hbk_pair pair, double *x)
{
    x[0] = pair[0];
    x[1] = pair[1];
}

/*
 * Where both are negative; by their signs, since gcc 12 makes no vector
 * instructions of a choice that hangs on a comparison.
 */
static inline hbk_sides hbk_pair_negative(hbk_pair x, hbk_pair y)
{
    typedef uint64_t bits __attribute__((vector_size(2 * sizeof(uint64_t))));
    return (hbk_sides)(0 - (((bits)x & (bits)y) >> 63));
}

/* a on the sides that are chosen, b on the others. */
static inline hbk_pair hbk_pair_chosen(hbk_sides chosen, hbk_pair a, hbk_pair b)
{
    return (hbk_pair)((chosen & (hbk_sides)a) | (~chosen & (hbk_sides)b));
}

static inline hbk_sides hbk_sides_at(const int64_t *x)
{
    hbk_sides sides;
    memcpy(&sides, x, sizeof(sides));
    return sides;
}

static inline hbk_pair hbk_pair_size(hbk_pair x)
{
    return (hbk_pair)((hbk_sides)x & INT64_MAX);
}

/*
 * Marks: one bit each for HBK_MARKS intervals of the grid, the first in the
 * lowest bit.
 */
enum { HBK_MARKS = 16 };

/* Sets bits k and k + 1 of both sides together. */
static inline void hbk_marks_add(hbk_sides *marks, size_t k, hbk_sides of)
{
    const hbk_sides bits = {(int64_t)1 << k, (int64_t)2 << k};
    *marks |= of & bits;
}

static inline uint32_t hbk_marks_of(hbk_sides marks)
{
    return (uint32_t)(marks[0] | marks[1]);
}

/* The number of the lowest bit; marks is not 0. */
static inline size_t hbk_marks_first(uint32_t marks)
{
    return (size_t)__builtin_ctz(marks);
}

#endif
