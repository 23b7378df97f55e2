#ifndef HBK_REPORT_IDENTIFY_H
#define HBK_REPORT_IDENTIFY_H

#include "base/text.h"
#include "notes/identified.h"

/* The layouts in order of likelihood, for reading on a terminal. */
void hbk_identify_text(const struct hbk_identified *found,
                       struct hbk_text *out);

/* The same for other programs; its fields are public. */
void hbk_identify_json(const struct hbk_identified *found,
                       struct hbk_text *out);

#endif
