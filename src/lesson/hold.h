#ifndef HBK_LESSON_HOLD_H
#define HBK_LESSON_HOLD_H

#include "lesson/plan.h"

/*
 * Fills in the holds of a new note: its steps from and to what is taught that
 * would be hard but for a finger that stays down (lesson/way.h). Puts their
 * words after the note's `why`, and counts them as told.
 *
 * key   in which it is taught, as of hbk_plan_key()
 */
void hbk_holds_find(struct hbk_plan *plan, int key,
                    struct hbk_lesson_note *added, struct hbk_arena *arena);

#endif
