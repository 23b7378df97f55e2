#ifndef HBK_REPORT_SCALES_H
#define HBK_REPORT_SCALES_H

#include "base/text.h"
#include "notes/scales.h"

/* How well each written key suits a horn, as text, csv and json. */
struct hbk_scales_view {
    const struct hbk_notes *notes;
    const struct hbk_scales *scales;
};

/* For people: one line a key, the easiest first, and what is awkward. */
void hbk_scales_text(const struct hbk_scales_view *view, struct hbk_text *out);
/* One row a key, flats to sharps; names in ASCII. */
void hbk_scales_csv(const struct hbk_scales_view *view, struct hbk_text *out);
/* "format": "hornbook-scales/2"; names are only ever added. */
void hbk_scales_json(const struct hbk_scales_view *view, struct hbk_text *out);

#endif
