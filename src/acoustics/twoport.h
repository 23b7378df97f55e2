#ifndef HBK_ACOUSTICS_TWOPORT_H
#define HBK_ACOUSTICS_TWOPORT_H

#include "acoustics/band.h"

#include <complex.h>

/*
 * Conventions of the whole folder: time goes as exp(+j omega t); pressure p
 * in Pa and volume velocity U in m^3/s are amplitudes; U is positive towards
 * the bell; "near" is the mouthpiece side, "far" the bell side, and
 *
 *   p_near = a p_far + b U_far,   U_near = c p_far + d U_far.
 *
 * One two-port for each lane of a band; ar and ai are the real and imaginary
 * parts of a.
 */
struct hbk_twoport {
    double ar[HBK_LANES], ai[HBK_LANES];
    double br[HBK_LANES], bi[HBK_LANES];
    double cr[HBK_LANES], ci[HBK_LANES];
    double dr[HBK_LANES], di[HBK_LANES];
};

/* The four elements of one lane, for those who want them as numbers. */
struct hbk_abcd {
    double complex a, b, c, d;
};

/* p and U at one place, every lane. */
struct hbk_wave {
    double pr[HBK_LANES], pi[HBK_LANES];
    double ur[HBK_LANES], ui[HBK_LANES];
};

void hbk_twoport_identity(struct hbk_twoport *out);

/* out = near * far (matrix product); out may be either of them. */
void hbk_twoport_chain(const struct hbk_twoport *near,
                       const struct hbk_twoport *far, struct hbk_twoport *out);

/* What stands at the near side of a two-port; out may be far. */
void hbk_twoport_carry(const struct hbk_twoport *port,
                       const struct hbk_wave *far, struct hbk_wave *out);

void hbk_twoport_set_lane(struct hbk_twoport *port, size_t lane,
                          struct hbk_abcd abcd);

#endif
