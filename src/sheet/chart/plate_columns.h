#ifndef HBK_SHEET_CHART_PLATE_COLUMNS_H
#define HBK_SHEET_CHART_PLATE_COLUMNS_H

#include "sheet/chart/plate_form.h"

/*
 * Where the columns stand: in one system or in two, broken at C, with both
 * names of a half-tone or one; and the staff that fits them.
 */
void hbk_plate_place(struct hbk_plate *plate);

/* For the page overleaf: no table, the scale in two systems. */
void hbk_plate_turn(struct hbk_plate *plate);
/* The most fingerings beside the first that a note of the system has. */
size_t hbk_plate_lines(const struct hbk_plate *plate,
                       const struct hbk_plate_system *system);

#endif
