#ifndef HBK_SHEET_CHART_STAND_H
#define HBK_SHEET_CHART_STAND_H

#include "notes/notes.h"
#include "page/pad.h"

/*
 * The chart for the music stand, read from 1.2 m: first fingerings only, in
 * rows from C to C with the hands beside them, on one page on its side. The
 * head has the name and two lines; the foot has what is read at hand, the
 * file's remarks only where they cost no size. Where one page would bring
 * figures under 20 points or discs under 4 mm (on A5 14 points and 3 mm), the
 * rows go on overleaf.
 *
 * Parameters, result and errors as of hbk_sheet_chart.
 */
enum hbk_status hbk_sheet_stand(const struct hbk_notes *notes,
                                const struct hbk_sheet_options *options,
                                const struct hbk_ruler *ruler,
                                struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
