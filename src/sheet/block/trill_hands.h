#ifndef HBK_SHEET_BLOCK_TRILL_HANDS_H
#define HBK_SHEET_BLOCK_TRILL_HANDS_H

#include "sheet/block/hand.h"

/* Where the hands of a trill are drawn, and what its two notes press. */
struct hbk_shake {
    double left;  /* of the first spot's centre */
    double y;     /* centre of the first row */
    double pitch; /* between two spots */
    uint32_t lower, upper;
};

/*
 * The hands of a trill in one picture: a control that both notes press is
 * filled, one that neither does is empty, and one that moves has a wedge in
 * it that points to the note that presses it: down for the lower, up for the
 * upper. (Not half filled: that is a half-closed hole on other winds.)
 */
void hbk_trill_hands_draw(struct hbk_pad *pad, const struct hbk_horn *horn,
                          const struct hbk_hands *hands,
                          const struct hbk_shake *shake);

/* One such spot that moves, for a legend. */
void hbk_trill_hands_spot(struct hbk_pad *pad,
                          const struct hbk_control *control, double x, double y,
                          double radius, bool upper);

#endif
