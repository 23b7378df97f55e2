#ifndef HBK_SOLVE_LENGTH_COLUMN_H
#define HBK_SOLVE_LENGTH_COLUMN_H

#include "base/status.h"
#include "solve/peak.h"
#include "solve/rig.h"

/*
 * The `length` model: the horn is an effective half-wave length L, and its
 * partials lie at f_p = p c / (2 L), moved by the measured stretch of each.
 *
 *   L = L_air + loops that are in + crook + slides + bits
 *
 * L_air belongs to the uppermost open hole: L_rest / 2^(raises / 12), or
 * L_rest less the distance between that hole and the open end at rest. Loops
 * are taken to lie above the holes. c is the speed of sound at the rig's
 * temperature. Accuracy: rounding only; what the model leaves out (flare,
 * mouthpiece, the length correction of a hole) is what `stretch` and the
 * readings of a tuner are for.
 */
enum hbk_status hbk_length_peaks(const struct hbk_horn *horn,
                                 const struct hbk_rig *rig, size_t n,
                                 const uint32_t presses[],
                                 struct hbk_peak *peaks) HBK_MUST_CHECK;

#endif
