#ifndef HBK_SHEET_LEGEND_H
#define HBK_SHEET_LEGEND_H

#include "notes/notes.h"
#include "sheet/pad.h"

/*
 * The foot of a sheet: every mark in use explained, where the figures come
 * from, the file's remarks, and the cautions.
 */
struct hbk_legend {
    const struct hbk_notes *notes;
    size_t alternates; /* printed at most, per note */
    double unit;       /* 1 for text of 7 pt */
    double width;
};

double hbk_legend_height(const struct hbk_pad *pad,
                         const struct hbk_legend *legend);
/* Draws it and returns its height. */
double hbk_legend_draw(struct hbk_pad *pad, const struct hbk_legend *legend,
                       double x, double y);

#endif
