#ifndef HBK_ACOUSTICS_RADIATION_H
#define HBK_ACOUSTICS_RADIATION_H

#include "acoustics/twoport.h"

/* What the far end of the chain opens into. */
enum hbk_bell {
    HBK_BELL_UNFLANGED, /* a thin rim in free space */
    HBK_BELL_FLANGED,   /* an infinite wall round the rim */
    HBK_BELL_IDEAL      /* pressure 0, for checks against closed forms */
};

/* How an open end sends a wave back: R = -modulus exp(-2 j k length). */
struct hbk_reflection {
    double modulus;      /* 0 to 1 */
    double length_per_a; /* end correction over the radius */
};

/*
 * Reflection at an open end for ka >= 0, ka = wave number times radius.
 *
 * HBK_BELL_UNFLANGED: Levine and Schwinger 1948, their integrals fitted by
 * Chebyshev polynomials in sqrt(ka) to 2e-7 up to ka = 3, by polynomials to
 * 4e-6 up to 3.55, then their formula for large ka (scaled by less than 1 % so
 * that nothing jumps) with the length held: nothing audible depends on that.
 * The integral gives 0.612701 for the length at ka = 0, the printed paper
 * 0.6133.
 * HBK_BELL_FLANGED: rational fit of Silva et al. 2009 (coefficients from
 * memory of the publication), modulus within 0.003, length within 1.5 % of a
 * modal solution for ka <= 2.
 * HBK_BELL_IDEAL: modulus 1, length 0.
 */
struct hbk_reflection hbk_radiation_reflection(enum hbk_bell bell, double ka);

/*
 * The wave at a radiating end of radius_m: pressure by volume velocity 1
 * (p = Z_r, U = 1), with
 *
 *   Z_r = (rho c / S)(1 + R)/(1 - R) + j omega rho extra_m / S,
 *
 * extra_m being a further length of air in front of the opening (a pad).
 */
void hbk_radiation_load(const struct hbk_band *band, enum hbk_bell bell,
                        double radius_m, double extra_m, struct hbk_wave *wave);

/* End correction at low frequency over the radius: 0.6127, 0.8216 or 0. */
double hbk_radiation_low_length(enum hbk_bell bell);

#endif
