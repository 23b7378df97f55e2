#include "sheet/block/trill_hands.h"

#include "horn/about.h"

/* Of the pitch, as in hand.c. */

/* Of the radius: the wedge keeps clear of the rim. */
static const double wedge_tip = 0.66;
static const double wedge_foot = 0.36;
static const double wedge_half = 0.58;

void hbk_trill_hands_spot(struct hbk_pad *pad,
                          const struct hbk_control *control, double x, double y,
                          double radius, bool upper)
{
    /* No second circle within: the wedge stands there. */
    struct hbk_control rim = *control;
    rim.rests_in = false;
    hbk_spot_draw(pad, &rim, x, y, radius, false);
    const double way = upper ? -radius : radius;
    const struct hbk_point wedge[] = {
        {x, y + wedge_tip * way},
        {x - wedge_half * radius, y - wedge_foot * way},
        {x + wedge_half * radius, y - wedge_foot * way}};
    hbk_pad_shape(pad, sizeof(wedge) / sizeof(wedge[0]), wedge);
}

void hbk_trill_hands_draw(struct hbk_pad *pad, const struct hbk_horn *horn,
                          const struct hbk_hands *hands,
                          const struct hbk_shake *shake)
{
    const double radius = HBK_SPOT_RADIUS * shake->pitch;
    hbk_pad_group(pad);
    for (size_t i = 0; i < hands->n; i++) {
        const struct hbk_spot *const spot = &hands->spots[i];
        const struct hbk_control *const control =
            hbk_horn_control(horn, spot->control);
        const double x = shake->left + spot->x * shake->pitch;
        const double level = shake->y + (double)spot->row * shake->pitch;
        const bool in_lower = (shake->lower >> spot->control & 1u) != 0;
        const bool in_upper = (shake->upper >> spot->control & 1u) != 0;
        if (in_lower == in_upper) {
            hbk_spot_draw(pad, control, x, level, radius, in_lower);
        } else {
            hbk_trill_hands_spot(pad, control, x, level, radius, in_upper);
        }
        if ((hands->stuck >> spot->control & 1u) != 0) {
            hbk_spot_cross(pad, x, level, radius);
        }
    }
}
