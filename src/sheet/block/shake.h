#ifndef HBK_SHEET_BLOCK_SHAKE_H
#define HBK_SHEET_BLOCK_SHAKE_H

#include "sheet/block/hand.h"

/*
 * The hands of a trill in one picture: a control that both notes press is
 * filled, one that neither does is empty, and one that moves has a wedge in
 * it that points to the note that presses it: down for the lower, up for the
 * upper. (Not half filled: that is a half-closed hole on other winds.)
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
