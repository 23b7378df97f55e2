#ifndef HBK_ACOUSTICS_MAXIMA_H
#define HBK_ACOUSTICS_MAXIMA_H

#include "acoustics/slopes.h"

#include <stddef.h>

/* One maximum of the modulus of the input impedance. */
struct hbk_maximum {
    double hz;
    double height;      /* |Z| there, Pa s/m^3 */
    double q;           /* sharpness: hz over the width at half power */
    double response_db; /* see acoustics/response.h */
    double heard_hz;    /* the pitch found there, see acoustics/ear.h */
    unsigned partial;   /* from 1; 0 for a side maximum, see below */
    unsigned claim;     /* from 1; the number it would have if it were alone */
};

/*
 * p and U at the mouthpiece on the grid (i + 1) step_hz, i = 0 .. n - 1, as
 * functions that are smooth in frequency: no absolute value and no quotient
 * has been taken.
 *
 * endr, endi, end_quarter: the flow at the end that counts (the bell, or the
 * uppermost open hole that takes most of the flow), and the quarter turns its
 * phase has made since the lowest frequency, from hbk_phase_unwind.
 */
struct hbk_field {
    size_t n; /* 23 or more; fewer have no maxima */
    double step_hz;
    double limit_hz; /* maxima above are left out; 5 grid points beyond */
    const double *pr, *pi, *ur, *ui;
    const double *endr, *endi;
    const int *end_quarter;
};

/* Memory for one search: n objects each, given by the caller. */
struct hbk_maxima_scratch {
    struct hbk_slopes slopes;
    int *quarter;
};

/*
 * Every maximum of |p/U| up to limit_hz, by rising frequency.
 *
 * How: the sign of d|Z|^2 and how fast it changes are known on the grid
 * (acoustics/slopes.h). Where the sign changes there is a maximum. Where the
 * tangents at two grid points, or the cubic through them, tell that a maximum
 * and a minimum may lie between, or where a zero of U is seen that no maximum
 * belongs to, the interval is cut in two, at the zero or where the slope is
 * least, until its pieces tell no more. In each piece p and U are polynomials
 * through 10 grid points, and the maximum of their quotient is found by
 * Newton's method. p and U are entire functions of frequency of known bandwidth
 * (the length of the column), which is what bounds the error: see
 * acoustics/sections.h.
 *
 * What is missed: a maximum that hardly rises above the valley beside it. Of
 * 47,699 maxima of 4,096 states of a column with 12 holes 4 were missed, none
 * of them more than 0.03 dB above its valley; of 1.9 million maxima of columns
 * drawn at random 69, none of them more than 0.5 dB above. Where a maximum is
 * as weak as 2 dB its place may be off by 0.1 cents.
 *
 * Numbers: the phase of U at the mouthpiece minus that at the end that counts
 * grows by half a turn a resonance, whether or not that resonance still shows
 * as a maximum; at the n-th it lies between n - 1 and n half turns. So n is
 * the whole half turns plus 1, and a resonance that is missing leaves its
 * number missing. Tube beyond the end that counts adds its resonances and
 * takes them away again. Of maxima with the same number the highest keeps it;
 * the others are side maxima, number 0, and keep it as their claim. Near the
 * cutoff of a bell, behind open holes, whole half turns fall on the maxima
 * themselves: there the number may be one off, and which of two neighbours
 * keeps it is chance.
 *
 * response_db and heard_hz are left 0. Returns how many were found; the lowest
 * `room` are kept, and n is always room enough.
 */
size_t hbk_maxima_find(const struct hbk_field *field,
                       const struct hbk_maxima_scratch *scratch, size_t room,
                       struct hbk_maximum maxima[]);

#endif
