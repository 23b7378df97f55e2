#ifndef HBK_SHEET_CHART_PLATE_SCALE_H
#define HBK_SHEET_CHART_PLATE_SCALE_H

#include "sheet/chart/plate_form.h"

/*
 * Names, staff, numbers, and what stands below the table for each note; y is
 * the top, and the foot of the numbers is returned.
 */
double hbk_plate_scale_draw(struct hbk_plate *plate,
                            const struct hbk_plate_system *system, double y);

#endif
