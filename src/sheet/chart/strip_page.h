#ifndef HBK_SHEET_CHART_STRIP_PAGE_H
#define HBK_SHEET_CHART_STRIP_PAGE_H

#include "sheet/chart/strip.h"

/* Rows that stand below each other on one page; borrows them. */
struct hbk_strip_page {
    size_t n;
    const struct hbk_strip_run *runs;
    struct hbk_point at; /* top left corner of the first, mm */
    double gap;          /* between two, mm */
};

/*
 * Draws names, staves and figures of all rows as one table, to be read as
 * such, then the hands of each as pictures.
 */
void hbk_strip_draw_page(struct hbk_pad *pad, const struct hbk_strip *strip,
                         const struct hbk_strip_page *page);

#endif
