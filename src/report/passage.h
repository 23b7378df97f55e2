#ifndef HBK_REPORT_PASSAGE_H
#define HBK_REPORT_PASSAGE_H

#include "base/text.h"
#include "passage/view.h"

/*
 * Bar by bar, one line a note.
 *
 * tempo_by   what another tempo is asked for with, to be told where it is
 *            assumed: an option, or NULL, and nothing is said of it
 */
void hbk_passage_text(const struct hbk_passage_view *view, const char *tempo_by,
                      struct hbk_text *out);

/* "bar 3:  C5 0  E5 1-2", a bar a line; "-" for a note not available. */
void hbk_passage_brief(const struct hbk_passage_view *view,
                       struct hbk_text *out);

/* The same for other programs. */
void hbk_passage_json(const struct hbk_passage_view *view,
                      struct hbk_text *out);

#endif
