#ifndef HBK_SOLVE_COLUMN_H
#define HBK_SOLVE_COLUMN_H

#include "base/fault.h"
#include "solve/peak.h"
#include "solve/rig.h"

/*
 * The air column of a horn as it lies in the hands, by whichever model its
 * file is of (solve/length_column.h, solve/bore_column.h). A press here is the
 * set of controls in their pressed state, whether a finger holds them or they
 * are stuck.
 */

/*
 * The resonances of every press: peaks[i * HBK_PEAK_STRIDE + p] is partial p
 * (from 1) of presses[i]. Triggers count as drawn to their full travel.
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when the geometry cannot be computed;
 * peaks are then untouched and `faults` says why.
 */
enum hbk_status hbk_column_peaks(const struct hbk_horn *horn,
                                 const struct hbk_rig *rig, size_t n,
                                 const uint32_t presses[],
                                 struct hbk_peak *peaks,
                                 struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * Puts the player's habit on the resonances of n rows that were found without
 * it, if the rig is as it is played. hbk_column_peaks() has done so.
 */
void hbk_column_play(const struct hbk_horn *horn, const struct hbk_rig *rig,
                     size_t n, struct hbk_peak *peaks);

/*
 * Semitones by which the uppermost open hole raises the horn above its state
 * at rest; 0 when that hole stands open at rest, or there is none.
 */
double hbk_column_raise(const struct hbk_horn *horn, uint32_t press);

#endif
