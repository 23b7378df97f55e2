#ifndef HBK_REPORT_FIT_H
#define HBK_REPORT_FIT_H

#include "base/text.h"
#include "notes/fitted.h"

/* The report of a fit for reading on a terminal. */
void hbk_fit_text(const struct hbk_fit_report *report, struct hbk_text *out);

/* The same for other programs; its fields are public. */
void hbk_fit_json(const struct hbk_fit_report *report, struct hbk_text *out);

#endif
