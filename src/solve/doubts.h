#ifndef HBK_SOLVE_DOUBTS_H
#define HBK_SOLVE_DOUBTS_H

#include "solve/gaps.h"

struct hbk_faults;

/*
 * What in a horn that is sound as it stands looks like a slip of whoever
 * wrote it, as warnings. The limits are our own, set so that no shipped horn
 * is doubted.
 */

/*
 * Looks at the horn alone: a length in inches or centimetres, a fundamental
 * too high; an open horn that does not sound its own C; a bore with a bulge; a
 * crook that is not as long as its key wants; a tuning note by its sounding
 * name; and at its keys, valves and slides (solve/doubts_controls.h,
 * solve/doubts_slides.h).
 */
void hbk_doubt_horn(const struct hbk_horn *horn, struct hbk_faults *faults);

/*
 * Looks at what was found of it: written notes an octave out, notes lost
 * because their partial is left out, and a pitch that a stuck slide keeps it
 * from (solve/doubts_pitch.h).
 */
void hbk_doubt_notes(const struct hbk_notes *notes, const struct hbk_gaps *gaps,
                     struct hbk_faults *faults);

#endif
