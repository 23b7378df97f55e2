#ifndef HBK_ACOUSTICS_PHASE_H
#define HBK_ACOUSTICS_PHASE_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Phases counted in quarter turns, and zeros of a smooth complex function that
 * is known on an even grid.
 */

/*
 * 0 from the positive real axis up to the positive imaginary axis, and so on
 * round to 3. The plane is turned by 1e-9 first, so that rounding does not
 * decide on which side of an axis a point lies that ought to be on it.
 */
static inline int hbk_phase_quadrant(double re, double im)
{
    const int left = re - (1e-9 * im) < 0.0;
    const int below = im + (1e-9 * re) < 0.0;
    return (2 * below) + (left ^ below);
}

/* Quarter turns from one quadrant to another, taken to be -1 to 2. */
static inline int hbk_phase_between(int from, int to)
{
    return ((to - from + 1) & 3) - 1;
}

/*
 * Where in its quarter turn a phase is, 0 to 1. Not the angle but a rational
 * stand-in that agrees with it at multiples of 1/8 turn and never differs by
 * more than 0.05 quarter: enough to count half turns by.
 */
double hbk_phase_within(double re, double im);

/*
 * The quadrant of (re, im)[i], i = 0 .. n - 1, counted on without jumping back:
 * from one point to the next the phase is taken to move by -1 to +2 quarters.
 * For the flow at the mouthpiece of a passive column that is so: all its zeros
 * lie above the real axis of frequency, so its phase only ever grows, by half a
 * turn as each zero is passed. Where two zeros may lie between two points the
 * interval is followed in eighths.
 *
 * n: HBK_PHASE_LEAST or more; nothing is done with fewer.
 */
enum { HBK_PHASE_LEAST = 23 };

void hbk_phase_unwind(size_t n, const double *re, const double *im,
                      int *quarter);

/* The same when the zeros that the grid points see are known: struct
 * hbk_slopes. */
void hbk_phase_unwind_seen(size_t n, const double *re, const double *im,
                           const double *zero, int *quarter);

/* Sixth order central difference; y[-3] .. y[3] are read. */
static inline double hbk_phase_difference(const double *y)
{
    return (0.75 * (y[1] - y[-1])) - (0.15 * (y[2] - y[-2])) +
           ((1.0 / 60.0) * (y[3] - y[-3]));
}

/*
 * Whether there may be two zeros of a function between grid points 0 and 1:
 * re[-3] .. re[4] are read. A point sees the nearest zero z at -w/w' = z - its
 * own place. A single zero is seen by both points at places that agree; two
 * look nearer. Only zeros near the axis matter: others make no maxima of their
 * own.
 */
bool hbk_phase_may_be_two(const double *re, const double *im);

#endif
