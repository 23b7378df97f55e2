#ifndef HBK_HORN_TUBE_H
#define HBK_HORN_TUBE_H

#include "horn/site.h"

struct hbk_horn;

/* What the numbers of a horn file say of its tube, in metres. */

/* How far an ordinary mouthpiece reaches (common practice, no source). */
#define HBK_MOUTHPIECE_REACH_M 0.080

/*
 * Of a horn described by its bore, the axis from the rim (or receiver) to the
 * bell, m.
 */
double hbk_bore_axis_m(const struct hbk_horn *horn);

/*
 * The half-wave length at rest, slides as in the file, no crook, of a horn
 * of the length model: as the file gives it, or half the wave of its
 * fundamental at a speed of sound in m/s.
 */
double hbk_rest_length(const struct hbk_horn *horn, double speed_m_s);

/*
 * What the file has of the tube itself: the axis of a horn described by its
 * bore, else hbk_rest_length().
 */
double hbk_axis_length(const struct hbk_horn *horn, double speed_m_s);

/*
 * The tube of a loop on a horn whose half-wave length at rest is rest_m (it
 * matters for loops given as a share of it or in cents). Cents count from
 * the horn at rest: c of them are 2^(c/1200) - 1 of its length where
 * pressing brings the loop in, and 1 - 2^(-c/1200) where it takes out a loop
 * that is in at rest.
 */
double hbk_loop_length(const struct hbk_site *site, double rest_m);

#endif
