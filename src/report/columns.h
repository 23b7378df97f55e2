#ifndef HBK_REPORT_COLUMNS_H
#define HBK_REPORT_COLUMNS_H

#include "base/text.h"

/* What reports for reading on a terminal have alike. */

/* To the whole, without a negative zero. */
double hbk_report_whole(double value);

/* Pads what was added since `start` to `width` columns, by one at least. */
void hbk_report_pad(struct hbk_text *out, size_t start, size_t width);

/* A sentence with its newline; nothing for "". */
void hbk_report_sentence(struct hbk_text *out, const char *sentence);

#endif
