#ifndef HBK_SHEET_CHART_PLATE_PLAN_H
#define HBK_SHEET_CHART_PLATE_PLAN_H

#include "sheet/chart/plate_form.h"

/* Chooses sizes; what is given up, and in which order, is told there. */
void hbk_plate_choose(struct hbk_plate *plate);

#endif
