#ifndef HBK_LESSON_WORDS_H
#define HBK_LESSON_WORDS_H

#include "lesson/plan.h"

/* Why a note is taught, and why now, as a teacher says it. */

/*
 * Fills in `why` of the new notes of a lesson.
 *
 * before   the plan as it was before the lesson
 * key      in which they are taught, as of hbk_plan_key()
 */
void hbk_lesson_say_why(const struct hbk_plan *before, int key,
                        struct hbk_lesson *lesson, struct hbk_arena *arena);

/* Why a note is left out; NULL for the fingering of one out of reach. */
const char *hbk_lesson_why_left(const struct hbk_fingering *fingering,
                                struct hbk_arena *arena);

#endif
