#ifndef HBK_SHEET_CHART_CARD_H
#define HBK_SHEET_CHART_CARD_H

#include "notes/notes.h"
#include "page/pad.h"

/*
 * The card for the pocket, of A6: the first choices, and in few words all
 * that must be known of the horn. Where one side does not hold it, it goes on
 * overleaf. A4 and Letter hold four of them (Letter's are a quarter of it),
 * A5 two, with marks where to cut; print on both sides for front and back.
 *
 * Nothing on it is smaller than 6 pt, note names not under 10.5 pt, circles
 * not under 1.6 mm.
 *
 * Parameters, result and errors as of hbk_sheet_chart.
 */
enum hbk_status hbk_sheet_card(const struct hbk_notes *notes,
                               const struct hbk_sheet_options *options,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet) HBK_MUST_CHECK;

#define HBK_CARD_POINTS 6.0

#endif
