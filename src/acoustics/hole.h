#ifndef HBK_ACOUSTICS_HOLE_H
#define HBK_ACOUSTICS_HOLE_H

#include "acoustics/twoport.h"

/* What stands round the outer end of a side hole. */
enum hbk_rim {
    HBK_RIM_AUTO,     /* cylinder if the chimney is lower than half the hole's
                         radius, else thin */
    HBK_RIM_CYLINDER, /* the tube's own wall */
    HBK_RIM_THIN,     /* a chimney standing off the tube */
    HBK_RIM_WIDE      /* a wall much larger than the hole */
};

struct hbk_side_hole {
    double radius_m;     /* inner, > 0, at most the radius of the bore */
    double chimney_m;    /* from the bore-wall line to the rim, >= 0 */
    double wall_m;       /* thickness of the chimney's wall, >= 0 */
    double pad_radius_m; /* 0: no pad stands over the open hole */
    double pad_lift_m;   /* clear height under the open pad, > 0 with a pad */
    enum hbk_rim rim;
    /*
     * Leaves out every correction and radiation: a plain side tube of
     * chimney_m, open with pressure 0 or shut. For checks.
     */
    bool plain;
};

/*
 * The two-port of a side hole in a bore of radius bore_m (the local radius,
 * in a cone as well): series Za/2, shunt Zs, series Za/2, so that
 *
 *   a = d = 1 + Za/(2 Zs),  b = Za (1 + Za/(4 Zs)),  c = 1/Zs,
 *   Za = j k (rho c / pi a^2) t_a,
 *   Zs = j k (rho c / pi b^2) t_i + Z_in,
 *
 * Z_in the input of the lossy chimney, of length chimney + t_m, that ends in
 * radiation (open) or a rigid wall (shut). delta = b/a:
 *
 *   t_m = (b delta / 8)(1 + 0.207 delta^3), the matching volume (Nederveen);
 *   t_i, t_a: Lefebvre and Scavone 2012, open and shut.
 *
 * Radiation of the open hole: wide, the flanged end; thin, the unflanged end
 * or with wall_m the finite flange of Dalmont, Nederveen and Joly 2001;
 * cylinder, their length b (0.822 - 0.47 (b/R)^0.8) with R = bore + chimney
 * and resistance (rho c / pi b^2)(k b)^2/4. A pad adds their length
 * b / [3.5 (h/b)^0.8 (h/b + 3 w/b)^-0.4 + 30 (h/r_d)^2.6].
 * (From memory of the publications; t_i, t_a and how t_i grows as others quote
 * their equations 31 to 34.)
 *
 * Accuracy: other published sets agree within 1.2 cents on the tested tubes;
 * the choice of rim moves a note by 5 to 13 cents; neighbouring holes do not
 * see each other outside the tube.
 *
 * Only this set is built: nothing in a horn file could say which to choose. Of
 * Dubos, Kergomard, Khettabi, Dalmont, Keefe and Nederveen 1999 (from memory)
 *
 *   t_i/b = 0.82 - 0.193 d - 1.09 d^2 + 1.27 d^3 - 0.71 d^4
 *   t_a / (b d^2), shut = -1/(1.78 coth(1.84 t/b) + 0.94 + 0.54 d + 0.285 d^2)
 *
 * t_i differs by at most 0.009 b up to d = 0.8, then by more, and by 0.064 b
 * for a hole as wide as the bore, where their fit falls to 0.097 and ours to
 * 0.161, as Nederveen, Jansen and van Hassel 1998 found 0.16. A shut hole's t_a
 * of a long chimney is 0.37 with them for a small hole, 0.30 at d = 0.8, ours
 * 0.29 for any, as those of 1998 found 0.28; d^2 makes the difference small
 * where it is largest.
 */
void hbk_hole_twoport(const struct hbk_band *band,
                      const struct hbk_side_hole *hole, double bore_m,
                      bool open, struct hbk_twoport *out);

/* t_i / b at low frequency, 0 <= delta <= 1. */
double hbk_hole_inner_length(double delta);
/* t_a / (b delta^2); negative. t_per_b: chimney over hole radius. */
double hbk_hole_series_length(double t_per_b, bool open);
/* t_m, m. */
double hbk_hole_matching_length(double radius_m, double bore_m);

/*
 * The air in the open hole at low frequency, all corrections counted: length
 * over area, 1/m (its inertance over the density).
 */
double hbk_hole_inertance(const struct hbk_side_hole *hole, double bore_m);

#endif
