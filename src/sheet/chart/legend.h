#ifndef HBK_SHEET_CHART_LEGEND_H
#define HBK_SHEET_CHART_LEGEND_H

#include "sheet/chart/gamut.h"

/*
 * The foot of a sheet: every mark in use explained, where the figures come
 * from, the file's remarks, and the cautions.
 */
struct hbk_legend {
    const struct hbk_notes *notes;
    size_t alternates;      /* printed at most, per note */
    enum hbk_detail detail; /* as the gamut's */
    double unit;            /* 1 for text of 7 pt */
    double width;
    bool compared;    /* numbers are underlined; see struct hbk_gamut */
    bool known_apart; /* what is known and the remarks stand elsewhere */
};

double hbk_legend_height(const struct hbk_pad *pad,
                         const struct hbk_legend *legend);
/* Draws it and returns its height. */
double hbk_legend_draw(struct hbk_pad *pad, const struct hbk_legend *legend,
                       double x, double y);

/*
 * What is known of the horn and the file's remarks, for a page of their own
 * where they are too long for the foot: as lines of the legend's text.
 */
struct hbk_lines hbk_legend_known_lines(struct hbk_pad *pad,
                                        const struct hbk_legend *legend);
/* Draws n of those lines from the first at y; returns the height taken. */
double hbk_legend_known_draw(struct hbk_pad *pad,
                             const struct hbk_legend *legend,
                             const struct hbk_lines *lines, size_t first,
                             size_t n, double x, double y);
/* How many such lines stand in a height. */
size_t hbk_legend_known_fit(const struct hbk_legend *legend, double height);

#endif
