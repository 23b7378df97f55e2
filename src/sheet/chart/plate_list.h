#ifndef HBK_SHEET_CHART_PLATE_LIST_H
#define HBK_SHEET_CHART_PLATE_LIST_H

#include "sheet/chart/plate_form.h"

/*
 * Finds what there is to show: columns, rows, the words at the head. False
 * where there is no note.
 */
bool hbk_plate_begin(struct hbk_plate *plate);

#endif
