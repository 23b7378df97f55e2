#ifndef HBK_SHEET_CHART_PLATE_PLAN_H
#define HBK_SHEET_CHART_PLATE_PLAN_H

#include "sheet/chart/plate_form.h"

/* Finds what there is to show; false where there is no note. */
bool hbk_plate_begin(struct hbk_plate *plate);
/* Chooses sizes; the order of sacrifices is in plate_plan.c. */
void hbk_plate_choose(struct hbk_plate *plate);

/* For the page overleaf: no table, the scale in two systems. */
void hbk_plate_turn(struct hbk_plate *plate);
/* The most fingerings beside the first that a note of the system has. */
size_t hbk_plate_lines(const struct hbk_plate *plate,
                       const struct hbk_plate_system *system);

#endif
