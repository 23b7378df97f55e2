#ifndef HBK_SHEET_ARTICLE_CURVE_SHEET_H
#define HBK_SHEET_ARTICLE_CURVE_SHEET_H

#include "notes/curve.h"
#include "page/pad.h"

/*
 * One page on its side: the impedance of a horn drawn against frequency, a
 * table of the numbered maxima as notes, and what is measured and assumed.
 *
 * curves    nothing of it is kept: text is copied
 * options   paper and title
 * sheet     zero-initialised but for its arena; receives the page
 */
void hbk_sheet_curves(const struct hbk_curves *curves,
                      const struct hbk_sheet_options *options,
                      const struct hbk_ruler *ruler, struct hbk_sheet *sheet);

#endif
