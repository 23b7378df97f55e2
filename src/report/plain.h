#ifndef HBK_REPORT_PLAIN_H
#define HBK_REPORT_PLAIN_H

#include "report/notes.h"
#include "report/trills.h"

/*
 * Notes and trills for a voice that reads them out: a sentence or two for
 * each, in words alone, "B4: valve 2. 5 cents sharp. Also valves 1, 2 and 3, 8
 * cents sharp." No table, no sign that a voice leaves out.
 */
void hbk_notes_plain(const struct hbk_notes_view *view, struct hbk_text *out);
void hbk_trills_plain(const struct hbk_trills_view *view, struct hbk_text *out);

#endif
