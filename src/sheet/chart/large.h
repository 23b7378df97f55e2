#ifndef HBK_SHEET_CHART_LARGE_H
#define HBK_SHEET_CHART_LARGE_H

#include "notes/notes.h"
#include "page/pad.h"

/*
 * The chart in large print, for who cannot read small type: a row a note with
 * staff, name, number, and the fingers in words. No type is under 16 points;
 * it takes as many pages as it needs, of any paper.
 *
 * Parameters, result and errors as of hbk_sheet_chart.
 */
enum hbk_status hbk_sheet_large(const struct hbk_notes *notes,
                                const struct hbk_sheet_options *options,
                                const struct hbk_ruler *ruler,
                                struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
