#ifndef HBK_EDITION_LESSON_RANGE_H
#define HBK_EDITION_LESSON_RANGE_H

#include "base/text.h"
#include "notes/notes.h"

/*
 * Reads "C4-C5": the lowest and the highest note that a pupil is to play, as he
 * reads them; `low` and `high` receive them as the horn is written.
 *
 * why   receives what would be right, where false is returned
 */
bool hbk_lesson_range_read(const char *text, const struct hbk_notes *notes,
                           int *low, int *high, struct hbk_text *why);

#endif
