#ifndef HBK_SHEET_BLOCK_WEDGE_H
#define HBK_SHEET_BLOCK_WEDGE_H

#include "page/pad.h"

/*
 * The deviation of a note as a slim upright wedge at the left of the number:
 * from the middle line of the figures it points up when sharp, down when
 * flat. Its length goes by the cents, up to HBK_WEDGE_CENTS; that of a longer
 * deviation is cut in two. None under eight cents, where it would be a mere
 * speck.
 *
 * size   the em of the number beside which it stands, mm
 */
double hbk_wedge_length(double cents, double size);
#define HBK_WEDGE_CENTS 30.0

/* The signed number, "+4", "−14", "±0", into `text`. */
enum { HBK_CENTS_SIZE = 16 };
char *hbk_cents_text(double cents, char text[HBK_CENTS_SIZE]);

/*
 * Wedge and number with the number's baseline at y and the left end of both
 * at x; returns the width taken. Wedge and number are groups of their own.
 */
double hbk_wedge_draw(struct hbk_pad *pad, double x, double y,
                      struct hbk_style style, double cents);
/* The width that it would take. */
double hbk_wedge_width(const struct hbk_pad *pad, struct hbk_style style,
                       double cents);
/* How far it reaches above and below the baseline, in sizes. */
#define HBK_WEDGE_ABOVE 1.17
#define HBK_WEDGE_BELOW 0.43

#endif
