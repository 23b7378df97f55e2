#ifndef HBK_SHEET_CHART_STRIP_HANDS_H
#define HBK_SHEET_CHART_STRIP_HANDS_H

#include "sheet/chart/strip.h"

/* Draws hands, map and rules of the same row: a part of a figure. */
void hbk_strip_hands(struct hbk_pad *pad, const struct hbk_strip *strip,
                     const struct hbk_strip_run *run, double x, double y);

#endif
