#ifndef HBK_ACOUSTICS_SLOPES_H
#define HBK_ACOUSTICS_SLOPES_H

#include <stddef.h>

/*
 * The slope of |p/U| on an even grid, from pressure and flow there.
 *
 * d|Z|^2 has the sign of (|p|^2)' |U|^2 - |p|^2 (|U|^2)'. Half of that is
 * `rise`, `bend` its derivative, both per grid step: where |Z| is spiky they
 * are smooth, being of four times the bandwidth of p and U and no more.
 *
 * p and U are differentiated, not their squares: near a zero of U the square is
 * small beside its neighbours, and a difference of it would be all error.
 */
struct hbk_slopes {
    double *rise, *bend;
    double *u2; /* |U|^2 */
    /*
     * Where the nearest zero of U lies, ahead of the grid point or behind, as
     * far as one grid point can see: -U/U' is right for a single zero. What is
     * a step away or farther, or off the axis of frequency by more than
     * HBK_SLOPES_FAR, is HBK_SLOPES_UNSEEN.
     */
    double *zero;
};

#define HBK_SLOPES_FAR 0.7
#define HBK_SLOPES_UNSEEN 9.0

/* Re p, Im p, Re U, Im U at grid points 0 .. n - 1. */
struct hbk_slopes_of {
    size_t n; /* HBK_SLOPES_LEAST or more */
    const double *part[4];
};

enum { HBK_SLOPES_BLOCK = 16, HBK_SLOPES_LEAST = HBK_SLOPES_BLOCK + 7 };

/*
 * Fills in grid points 3 .. n - 4, by differences over seven points: first
 * derivatives of the sixth order, second ones of the fourth. For waves of 14
 * points a turn they are off by 3e-5 and 1e-4 of the greatest.
 */
void hbk_slopes_set(const struct hbk_slopes_of *of,
                    const struct hbk_slopes *slopes);

#endif
