#ifndef HBK_SHEET_SHAKE_H
#define HBK_SHEET_SHAKE_H

#include "sheet/hand.h"

/*
 * The hands of a trill in one picture: a control that both notes press is
 * filled, one that neither does is empty, and one that moves is filled in
 * its lower half when the lower note presses it, in its upper half when the
 * upper note does.
 *
 * left    of the first spot's centre
 * y       centre of the first row
 * pitch   between two spots
 */
void hbk_shake_draw(struct hbk_pad *pad, const struct hbk_horn *horn,
                    const struct hbk_hands *hands, double left, double y,
                    double pitch, uint32_t lower, uint32_t upper);

/* One such spot that moves, for a legend. */
void hbk_shake_spot(struct hbk_pad *pad, const struct hbk_control *control,
                    double x, double y, double radius, bool upper);

#endif
