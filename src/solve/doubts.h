#ifndef HBK_SOLVE_DOUBTS_H
#define HBK_SOLVE_DOUBTS_H

#include "solve/gaps.h"

/*
 * What in a horn that is sound as it stands looks like a slip of whoever
 * wrote it, as warnings. The limits are our own, set so that no shipped horn
 * is doubted.
 */

/*
 * Looks at the horn alone: a length in inches or centimetres; an open horn
 * that does not sound its own C; keys numbered from the wrong end; an open key
 * said to be shut; valves that do next to nothing, or two the same, or that
 * one finger has to press at once.
 */
void hbk_doubt_horn(const struct hbk_horn *horn, struct hbk_faults *faults);

/*
 * Looks at what was found of it: written notes an octave out, and notes lost
 * because their partial is left out.
 */
void hbk_doubt_notes(const struct hbk_notes *notes, const struct hbk_gaps *gaps,
                     struct hbk_faults *faults);

#endif
