#ifndef HBK_ACOUSTICS_LOSSES_H
#define HBK_ACOUSTICS_LOSSES_H

#include "acoustics/band.h"

#include <complex.h>

/*
 * What a metre of round tube does to the wave, freed of the cross-section S:
 * the series impedance times S (Pa s/m^2) and the shunt admittance divided by
 * S. Their product is the square of the propagation constant, their quotient
 * the square of S times the characteristic impedance.
 */
struct hbk_line {
    double zr[HBK_LANES], zi[HBK_LANES];
    double yr[HBK_LANES], yi[HBK_LANES];
};

/*
 * Friction and heat exchange at the wall of a round tube:
 *
 *   r_v = a sqrt(omega rho / eta),  s = r_v exp(-j pi/4),
 *   F(s) = 2 J1(s) / (s J0(s)),
 *   z = j omega rho / (1 - F(s)),
 *   y = j omega / (rho c^2) (1 + (gamma - 1) F(nu s)).
 *
 * With air->lossless F is 0. radius_m > 0.
 *
 * Accuracy: 1e-13 relative, see hbk_losses_bessel_ratio.
 * Source: Zwikker and Kosten 1949, confirmed as the full low-frequency
 * solution by Tijdeman 1975 (formulas from memory of the publications).
 */
void hbk_losses_line(const struct hbk_band *band, double radius_m,
                     struct hbk_line *line);

/*
 * J1(s) / J0(s) for s = shear exp(-j pi/4), shear > 0: up to 30 by the
 * backward continued fraction of the recurrence, above by the asymptotic
 * series of the quotient. Neither J0 nor J1 is formed, so nothing overflows.
 *
 * Accuracy: 3e-14 relative for shear from 0.01 to 1e5.
 */
double complex hbk_losses_bessel_ratio(double shear);

#endif
