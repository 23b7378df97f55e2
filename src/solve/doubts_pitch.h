#ifndef HBK_SOLVE_DOUBTS_PITCH_H
#define HBK_SOLVE_DOUBTS_PITCH_H

#include "notes/notes.h"

struct hbk_faults;

/*
 * Index of a main slide whose being stuck keeps the horn from the pitch asked
 * for by HBK_REST_ALARM_CENTS and more: in although it is flat, or out although
 * it is sharp, does not count. -1 for none.
 */
int hbk_stuck_off_pitch(const struct hbk_notes *notes);

/*
 * A pitch in the file that its horn does not play at, because a slide is stuck
 * elsewhere than where the lengths of the file hold: which of the two is meant?
 *
 * notes   under the horn's own setting
 */
void hbk_doubt_pitch(const struct hbk_notes *notes, struct hbk_faults *faults);

#endif
