#ifndef HBK_SHEET_BLOCK_CURVE_PLOT_H
#define HBK_SHEET_BLOCK_CURVE_PLOT_H

#include "notes/curve.h"
#include "page/pad.h"

/*
 * Impedance drawn against frequency: both axes even, level in dB upwards,
 * hertz below. Curves are told apart by the kind of their line and named where
 * they end; the maxima of a single one carry the numbers of their partials.
 */
struct hbk_plot {
    const struct hbk_curves *curves;
    double unit;          /* 1 for text of 7.5 pt */
    double x, y;          /* top left corner of all of it, mm */
    double width, height; /* of all of it, names and numbers included */
};

void hbk_plot_draw(struct hbk_pad *pad, const struct hbk_plot *plot);

#endif
