#ifndef HBK_SHEET_CHART_PLATE_WORDS_H
#define HBK_SHEET_CHART_PLATE_WORDS_H

#include "sheet/chart/plate_form.h"

/* The words of legend and foot, wrapped. */
void hbk_plate_words(struct hbk_plate *plate);
void hbk_plate_foot_draw(struct hbk_plate *plate);
/* What the alternates overleaf mean, in lines from y on. */
void hbk_plate_others_explain(struct hbk_plate *plate, double y);
/* What was too long for the foot, over as many pages as it needs. */
void hbk_plate_known_draw(struct hbk_plate *plate);

#endif
