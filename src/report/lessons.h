#ifndef HBK_REPORT_LESSONS_H
#define HBK_REPORT_LESSONS_H

#include "base/text.h"
#include "lesson/order.h"

/*
 * What is taught on a horn in which order, as text and JSON; csv would lose
 * the reasons, which are the point of it.
 */

/* For people: the first notes, a line a new note, what is left out. */
void hbk_lessons_text(const struct hbk_lessons *lessons, struct hbk_text *out);
/* "format": "hornbook-lessons/1"; names are only ever added. */
void hbk_lessons_json(const struct hbk_lessons *lessons, struct hbk_text *out);

#endif
