#ifndef HBK_SHEET_ARTICLE_FIT_ROWS_H
#define HBK_SHEET_ARTICLE_FIT_ROWS_H

#include "notes/fitted.h"
#include "page/pad.h"
#include "sheet/words/fit_words.h"

/* The rows of a fit's sheet: one reading each, drawn over a scale of cents. */
struct hbk_fit_rows {
    const struct hbk_fit_report *report;
    const struct hbk_fit_setups *setups;
    double unit;     /* mm on A4 */
    double x, width; /* of the whole row */
    double range;    /* cents at either end of the scale */
};

/* Heights in units. */
#define HBK_FIT_ROW_HEIGHT 4.6
#define HBK_FIT_HEAD_HEIGHT 8.0

/* A range that holds every reading that was followed, from 20 cents. */
double hbk_fit_rows_range(const struct hbk_fit_report *report);

/* The names of the columns and the scale; rows begin HEAD_HEIGHT below y. */
void hbk_fit_rows_head(struct hbk_pad *pad, const struct hbk_fit_rows *rows,
                       double y);
/* The lines of the scale behind `n` rows that begin at y. */
void hbk_fit_rows_grid(struct hbk_pad *pad, const struct hbk_fit_rows *rows,
                       double y, size_t n);
/* Reading i. */
void hbk_fit_rows_draw(struct hbk_pad *pad, const struct hbk_fit_rows *rows,
                       double y, size_t i);

#endif
