#ifndef HBK_SHEET_CHART_STAND_H
#define HBK_SHEET_CHART_STAND_H

#include "notes/notes.h"
#include "page/pad.h"

/*
 * The chart for the music stand, read from 1.2 m: first choices only, large,
 * on as few pages as hold them with note names of at least 20 pt on every
 * paper. What must be known of the horn stands at the head of the first
 * page and at the foot of the last in letters for the hand.
 *
 * Parameters, result and errors as of hbk_sheet_chart.
 */
enum hbk_status hbk_sheet_stand(const struct hbk_notes *notes,
                                const struct hbk_sheet_options *options,
                                const struct hbk_ruler *ruler,
                                struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
