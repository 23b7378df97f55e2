#ifndef HBK_SHEET_CHART_PLATE_TABLE_H
#define HBK_SHEET_CHART_PLATE_TABLE_H

#include "sheet/chart/plate_form.h"

/* Tint, rules, labels and dots; y is the top, and the foot is returned. */
double hbk_plate_table_draw(struct hbk_plate *plate,
                            const struct hbk_plate_system *system, double y);
/* Lip and other fingerings of one note, below the table that ends at y. */
void hbk_plate_below_draw(struct hbk_plate *plate,
                          const struct hbk_plate_column *column, double y);

#endif
