#ifndef HBK_SHEET_CHART_CARD_H
#define HBK_SHEET_CHART_CARD_H

#include "notes/notes.h"
#include "page/pad.h"

/*
 * The card for the pocket, of A6 on its side: first fingerings in the rows of
 * the stand chart (sheet/chart/strip.h), as large as front and back allow. No
 * disc is under 3 mm; where two sides do not hold the notes, they go on on
 * further cards. A4 and Letter hold four of them (Letter's are a quarter of
 * it), A5 two, with marks where to cut; print on both sides for front and
 * back.
 *
 * Names are 9 pt at least, figures 10 pt, sentences 8.5 pt, small print
 * HBK_CARD_POINTS.
 *
 * Parameters, result and errors as of hbk_sheet_chart.
 */
enum hbk_status hbk_sheet_card(const struct hbk_notes *notes,
                               const struct hbk_sheet_options *options,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet) HBK_MUST_CHECK;

#define HBK_CARD_POINTS 7.5

#endif
