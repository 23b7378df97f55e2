#ifndef HBK_SHEET_PRIMER_PRIMER_H
#define HBK_SHEET_PRIMER_PRIMER_H

#include "base/status.h"
#include "page/pad.h"
#include "sheet/primer/primer_given.h"

/*
 * The primer: a booklet from which somebody who has never held the horn learns
 * it alone. How it works, care, the first five notes, lessons with studies and
 * tunes, scales and movements, and a page for the tuner.
 */

/* Whether a primer can have such pages: A4, A5 or Letter. */
bool hbk_primer_takes(enum hbk_paper paper);

/*
 * Lays out the booklet. A horn on which there is nothing to teach gets what is
 * left, and is told why.
 *
 * sheet   zero-initialised but for its arena; receives the pages
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when the horn has no note at all or the
 * paper is another; the sheet then has no page.
 */
enum hbk_status hbk_sheet_primer(const struct hbk_primer *primer,
                                 const struct hbk_primer_options *options,
                                 const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
