#ifndef HBK_SHEET_CHART_GAMUT_H
#define HBK_SHEET_CHART_GAMUT_H

#include "page/pad.h"
#include "sheet/chart/gamut_plan.h"

/* The rows of a gamut, measured and drawn. */

/*
 * Measures what the bars must hold, once all but the number of bars and of
 * alternates is set; holds for this unit and all larger ones.
 */
void hbk_gamut_measure(const struct hbk_pad *pad, struct hbk_gamut *gamut);

/* The narrowest bar that holds names and numbers. */
double hbk_gamut_narrowest(const struct hbk_gamut *gamut);

double hbk_gamut_row_height(const struct hbk_gamut *gamut, size_t row);
void hbk_gamut_row_draw(struct hbk_pad *pad, const struct hbk_gamut *gamut,
                        size_t row, double x, double y);

#endif
