#ifndef HBK_REPORT_LESSONS_H
#define HBK_REPORT_LESSONS_H

#include "base/text.h"
#include "lesson/order.h"

/*
 * What is taught on a horn in which order, as text and JSON; csv would lose
 * the reasons, which are the point of it.
 *
 * known   the horn a player comes from, with which new notes are compared;
 *         NULL for none
 */

/* For people: the first notes, a line a new note, what is left out. */
void hbk_lessons_text(const struct hbk_lessons *lessons,
                      const struct hbk_notes *known, struct hbk_text *out);
/* "format": "hornbook-lessons/1"; names are only ever added. */
void hbk_lessons_json(const struct hbk_lessons *lessons,
                      const struct hbk_notes *known, struct hbk_text *out);

#endif
