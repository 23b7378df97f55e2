#ifndef HBK_SHEET_CHART_WALL_H
#define HBK_SHEET_CHART_WALL_H

#include "notes/notes.h"
#include "page/pad.h"

/*
 * The chart for the wall: everything known about a horn on one page where
 * it fits with an alternate at least (upright or on its side, whichever lets
 * it be larger), else on several; the unrolled tube on a page of its own where
 * it has no room. Note names are never under 14 pt, nothing under 7 pt.
 *
 * Parameters, result and errors as of hbk_sheet_chart.
 */
enum hbk_status hbk_sheet_wall(const struct hbk_notes *notes,
                               const struct hbk_sheet_options *options,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
