#ifndef HBK_SHEET_CHART_PLATE_H
#define HBK_SHEET_CHART_PLATE_H

#include "notes/notes.h"
#include "page/pad.h"

/*
 * The plate, as the engraved scale plates of the old tutors: the instrument
 * across the top with its keys or valves numbered, the chromatic scale on a
 * staff, and under it a ruled table with a row for each key or valve, in the
 * order of the tube, and a dot where it is pressed. Landscape; one page for
 * every horn that fits, A4 or larger.
 *
 * Parameters, result and errors as of hbk_sheet_chart.
 */
enum hbk_status hbk_sheet_plate(const struct hbk_notes *notes,
                                const struct hbk_sheet_options *options,
                                const struct hbk_ruler *ruler,
                                struct hbk_sheet *sheet) HBK_MUST_CHECK;

/*
 * The plate with every alternate fingering and its cents, below the table
 * where there is room, else overleaf: for the wall of the practice room.
 */
enum hbk_status hbk_sheet_wall(const struct hbk_notes *notes,
                               const struct hbk_sheet_options *options,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
