#ifndef HBK_SHEET_ARTICLE_CURVE_SHEET_H
#define HBK_SHEET_ARTICLE_CURVE_SHEET_H

#include "notes/curve.h"
#include "page/pad.h"

/*
 * Pages on their side, upright ones of A6: for each fingering a ladder of its
 * partials, with the note each gives and by how many cents it is flat or sharp;
 * below, small, the curve of impedance they were found on, where the paper has
 * room for it. One page, unless the paper is too narrow for all fingerings
 * beside each other.
 *
 * curves    nothing of it is kept: text is copied
 * options   paper and title
 * sheet     zero-initialised but for its arena; receives the pages
 */
void hbk_sheet_curves(const struct hbk_curves *curves,
                      const struct hbk_sheet_options *options,
                      const struct hbk_ruler *ruler, struct hbk_sheet *sheet);

#endif
