#ifndef HBK_REPORT_SLIDES_H
#define HBK_REPORT_SLIDES_H

#include "base/text.h"
#include "notes/slides.h"

/*
 * How the slides are set and what the notes then give: as text, as
 * comma-separated values (RFC 4180; the slides, then after an empty line
 * the notes) and as JSON.
 */
void hbk_slides_text(const struct hbk_slides *slides, struct hbk_text *out);
void hbk_slides_csv(const struct hbk_slides *slides, struct hbk_text *out);
void hbk_slides_json(const struct hbk_slides *slides, struct hbk_text *out);

#endif
