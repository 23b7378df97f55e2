#ifndef HBK_ACOUSTICS_TUBE_H
#define HBK_ACOUSTICS_TUBE_H

#include "acoustics/twoport.h"

/* A straight-walled piece: a cylinder, or a cone widening either way. */
struct hbk_tube {
    double length_m; /* along the axis, >= 0 */
    double near_m;   /* radius at the mouthpiece side, > 0 */
    double far_m;    /* radius at the bell side, > 0 */
};

/* The shape taken for the wave in a cone. */
enum hbk_fronts {
    HBK_FRONTS_SPHERICAL, /* caps: slant length, area of the cap */
    HBK_FRONTS_PLANE      /* discs: axial length, pi a^2 */
};

/*
 * The two-port of a tube.
 *
 * With X = sinh(G L)/G, Y = cosh(G L), G^2 = z y of struct hbk_line at the
 * radius (a2 - a1)/ln(a2/a1), i = (a2 - a1)/(a L) at either end:
 *
 *   a = (a2/a1)(Y - i2 X),  b = z X / sqrt(S1 S2),
 *   c = sqrt(S1 S2) [y X + (i1 i2/z)(L Y - X)],  d = (a1/a2)(Y + i1 X),
 *
 * which is the cone of Benade 1988 in the form that passes into the cylinder
 * without a division by 0. Cones are cut into slices so that the losses follow
 * the radius; spherical fronts replace L by the slant length and S by the area
 * of the cap, pi a^2 2/(1 + cos theta) (Benade and Jansson 1974).
 *
 * Accuracy: lossless exact to rounding; slicing moves no resonance by more
 * than 0.005 cent against integration along the wall (tests/reference), in a
 * cone that begins with 0.5 mm by 0.02.
 * Source: Mapes-Riordan 1993, Chaigne and Kergomard 2016 (from memory of the
 * publications; checked against closed forms in the tests).
 */
void hbk_tube_twoport(const struct hbk_band *band, const struct hbk_tube *tube,
                      enum hbk_fronts fronts, struct hbk_twoport *out);

/* How many slices that will take at low frequencies: a measure of work. */
size_t hbk_tube_slices(const struct hbk_tube *tube);

/*
 * Added inertia where the bore jumps between two radii: the series two-port
 * j omega rho delta / (pi a1^2), delta = 0.82 a1 (1 - 1.25 a1/a2), a1 the
 * smaller; nothing once a1/a2 reaches 0.8.
 *
 * Source: Karal 1953 (from memory of the publication, first terms).
 */
void hbk_tube_step(const struct hbk_band *band, double near_m, double far_m,
                   struct hbk_twoport *out);

/* The length of pi a1^2 tube that such a step is worth, m. */
double hbk_tube_step_length(double near_m, double far_m);

/* The integral of dx / S over the tube, 1/m: inertance over density. */
double hbk_tube_inertance(const struct hbk_tube *tube);

#endif
