#ifndef HBK_SHEET_WEDGE_H
#define HBK_SHEET_WEDGE_H

#include "sheet/pad.h"

/*
 * The deviation of a note as a slim wedge that grows from its point: above
 * the number when sharp, below it when flat. Its length goes by the cents,
 * up to 60; a longer deviation has the blunt end cut in two.
 *
 * size   the em of the number beside which it stands, mm
 */
double hbk_wedge_length(double cents, double size);

/* The signed number, "+4", "−14", "0" (no sign), into `text`. */
enum { HBK_CENTS_SIZE = 16 };
char *hbk_cents_text(double cents, char text[HBK_CENTS_SIZE]);

/*
 * Number and wedge with the number's baseline at y and its left end at x;
 * returns the width taken. No wedge under three cents, which
 * nobody would see.
 */
double hbk_wedge_draw(struct hbk_pad *pad, double x, double y,
                      struct hbk_style style, double cents);
/* The width that it would take. */
double hbk_wedge_width(const struct hbk_pad *pad, struct hbk_style style,
                       double cents);
/* How far it reaches above and below the baseline, in sizes. */
#define HBK_WEDGE_ABOVE 1.23
#define HBK_WEDGE_BELOW 0.49

#endif
