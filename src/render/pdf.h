#ifndef HBK_RENDER_PDF_H
#define HBK_RENDER_PDF_H

#include "base/fault.h"
#include "base/text.h"
#include "render/structure.h"

/* For the files of this folder only: what makes a drawn PDF readable aloud. */

/* What a document says of itself. */
struct hbk_pdf_about {
    const char *title, *subject;
    const char *date; /* "YYYY-MM-DDTHH:MM:SSZ" */
};

/*
 * The content of a page with the runs named in it: `content` as the drawing
 * library wrote it, each run in it enclosed once; `runs` those of the page.
 * False when there are not as many; `out` is then of no use.
 */
bool hbk_pdf_name_runs(const char *content, size_t length,
                       const struct hbk_run *runs, size_t n,
                       struct hbk_text *out);

/* Text as a string of PDF: UTF-16 in hexadecimal. */
void hbk_pdf_add_string(struct hbk_text *out, const char *utf8);

/*
 * Adds to a PDF as it was drawn what the drawing library cannot write:
 * structure with alternative texts and heads of tables, language, title in
 * the window bar, metadata.
 *
 * drawn   the bytes; out receives the result, in its arena
 *
 * Returns NULL, or in a few words what went wrong.
 */
const char *hbk_pdf_finish(const struct hbk_text *drawn,
                           const struct hbk_structure *structure,
                           const struct hbk_pdf_about *about,
                           struct hbk_text *out);

#endif
