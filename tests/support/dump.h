#ifndef HBK_TESTS_DUMP_H
#define HBK_TESTS_DUMP_H

#include "base/text.h"
#include "page/mark.h"

/*
 * A sheet as text, one line a mark with two decimals of a millimetre, so
 * that a change of layout can be read and compared.
 */
void hbk_sheet_dump(const struct hbk_sheet *sheet, struct hbk_text *out);

#endif
