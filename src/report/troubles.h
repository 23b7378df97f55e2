#ifndef HBK_REPORT_TROUBLES_H
#define HBK_REPORT_TROUBLES_H

#include "base/text.h"
#include "notes/troubles.h"

/* What may be wrong with a horn, the likeliest first, for a terminal. */
void hbk_troubles_text(const struct hbk_troubles *found, struct hbk_text *out);

/* The same for other programs; its fields are public. */
void hbk_troubles_json(const struct hbk_troubles *found, struct hbk_text *out);

#endif
