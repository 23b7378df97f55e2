#ifndef HBK_ACOUSTICS_MAXIMA_H
#define HBK_ACOUSTICS_MAXIMA_H

#include <stddef.h>

/* One maximum of the modulus of the input impedance. */
struct hbk_maximum {
    double hz;
    double height;      /* |Z| there, Pa s/m^3 */
    double q;           /* sharpness: hz over the width at half power */
    double response_db; /* see acoustics/response.h */
    unsigned partial;   /* from 1; 0 for a side maximum, see below */
};

/*
 * p and U at the mouthpiece on the grid (i + 1) step_hz, i = 0 .. n - 1, as
 * functions that are smooth in frequency: no absolute value and no quotient
 * has been taken.
 *
 * endr, endi, end_quarter: the flow at the end that counts (the bell, or the
 * uppermost open hole that takes most of the flow), and the quarter turns its
 * phase has made since the lowest frequency, from hbk_turns_unwind.
 */
struct hbk_field {
    size_t n; /* 22 or more; fewer have no maxima */
    double step_hz;
    double limit_hz; /* maxima above are left out; 5 grid points beyond */
    const double *pr, *pi, *ur, *ui;
    const double *endr, *endi;
    const int *end_quarter;
};

/* Memory for one search: n objects each, given by the caller. */
struct hbk_maxima_scratch {
    double *p2, *u2, *rise, *flow_slope, *flow_square;
    int *quarter;
};

/*
 * Every maximum of |p/U| up to limit_hz, by rising frequency.
 *
 * How: d|Z|^2 has the sign of (|p|^2)' |U|^2 - |p|^2 (|U|^2)', which is smooth
 * where |Z| is spiky; its changes of sign on the grid (derivatives by sixth
 * order differences) bracket the maxima; where it nearly touches 0 between two
 * grid points, or where a grid point sees a zero of U that no
 * maximum belongs to, the interval is looked at more closely. In the bracket p
 * and U are interpolated by polynomials through 10 grid points and the maximum
 * of their quotient found by Newton's method. p and U are entire functions of
 * frequency of known bandwidth (the length of the column), which is what bounds
 * the error: see acoustics/sections.h.
 *
 * Numbers: the phase of U at the mouthpiece minus that at the end that counts
 * grows by half a turn a resonance, whether or not that resonance still shows
 * as a maximum; at the n-th it lies between n - 1 and n half turns. So n is
 * the whole half turns plus 1, and a resonance that is missing leaves its
 * number missing. Tube beyond the end that counts adds its resonances and
 * takes them away again. Of maxima with the same number the highest keeps it;
 * the others are side maxima, number 0.
 *
 * response_db is left 0. Returns how many were found; the search ends when
 * `room` is full, and n is always room enough.
 */
size_t hbk_maxima_find(const struct hbk_field *field,
                       const struct hbk_maxima_scratch *scratch, size_t room,
                       struct hbk_maximum maxima[]);

#endif
