#ifndef HBK_SHEET_CHART_STRIP_DRAW_H
#define HBK_SHEET_CHART_STRIP_DRAW_H

#include "sheet/chart/strip.h"

/* Draws names, staff and figures: a row of the table that is open. */
void hbk_strip_draw(struct hbk_pad *pad, const struct hbk_strip *strip,
                    const struct hbk_strip_run *run, double x, double y);

#endif
