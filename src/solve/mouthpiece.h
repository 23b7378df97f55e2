#ifndef HBK_SOLVE_MOUTHPIECE_H
#define HBK_SOLVE_MOUTHPIECE_H

#include "base/fault.h"
#include "notes/notes.h"
#include "solve/rig.h"

/*
 * What the mouthpiece of the rig does in place of the horn's own.
 *
 * rig     as the horn is set up, with a mouthpiece that is not its own
 * tuned   its tuning note, with what is pressed for it and its partial
 * held    what is stuck down: the open horn is played with that
 * change  result; all zero where a note has no resonance
 *
 * Returns HBK_OK, or what the column of either cannot be computed for.
 */
enum hbk_status
hbk_mouthpiece_compare(const struct hbk_horn *horn, const struct hbk_rig *rig,
                       const struct hbk_tuned *tuned, uint32_t held,
                       struct hbk_mouthpiece_change *change,
                       struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
