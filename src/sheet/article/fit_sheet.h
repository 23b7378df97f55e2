#ifndef HBK_SHEET_ARTICLE_FIT_SHEET_H
#define HBK_SHEET_ARTICLE_FIT_SHEET_H

#include "notes/fitted.h"
#include "page/pad.h"

/*
 * The report of a fit on paper: every reading as a ring where it lay from
 * the horn file and a disc where it lies from the fitted horn, what was set
 * aside, what was learned, and the notes to read next. As many pages as the
 * readings need.
 *
 * report    nothing of it is kept: text is copied
 * options   paper and title
 * sheet     zero-initialised but for its arena; receives the pages
 */
void hbk_sheet_fit(const struct hbk_fit_report *report,
                   const struct hbk_sheet_options *options,
                   const struct hbk_ruler *ruler, struct hbk_sheet *sheet);

#endif
