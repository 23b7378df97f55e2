#include "sheet/shake.h"

#include <math.h>

/* Of the pitch, as in hand.c. */
static const double spot_radius = 0.39;

enum { ARC_POINTS = 17 };
static const double half_turn = 3.14159265358979323846;

void hbk_shake_spot(struct hbk_pad *pad, const struct hbk_control *control,
                    double x, double y, double radius, bool upper)
{
    hbk_spot_draw(pad, control, x, y, radius, false);
    if (control->stands_open) {
        const double half = 0.9 * radius;
        hbk_pad_panel(pad, x - half, upper ? y - half : y, 2.0 * half, half,
                      HBK_BLACK);
        return;
    }
    struct hbk_point points[ARC_POINTS];
    for (int i = 0; i < ARC_POINTS; i++) {
        const double turn = half_turn * i / (ARC_POINTS - 1);
        points[i] = (struct hbk_point){
            x + radius * cos(turn), y + (upper ? -radius : radius) * sin(turn)};
    }
    hbk_pad_shape(pad, ARC_POINTS, points);
}

void hbk_shake_draw(struct hbk_pad *pad, const struct hbk_horn *horn,
                    const struct hbk_hands *hands, double left, double y,
                    double pitch, uint32_t lower, uint32_t upper)
{
    hbk_pad_group(pad);
    for (size_t i = 0; i < hands->n; i++) {
        const struct hbk_spot *const spot = &hands->spots[i];
        const struct hbk_control *const control =
            &horn->controls[spot->control];
        const double x = left + spot->x * pitch;
        const double level = y + (double)spot->row * pitch;
        const bool in_lower = (lower >> spot->control & 1u) != 0;
        const bool in_upper = (upper >> spot->control & 1u) != 0;
        if (in_lower == in_upper) {
            hbk_spot_draw(pad, control, x, level, spot_radius * pitch,
                          in_lower);
        } else {
            hbk_shake_spot(pad, control, x, level, spot_radius * pitch,
                           in_upper);
        }
        if ((hands->stuck >> spot->control & 1u) != 0) {
            hbk_spot_cross(pad, x, level, spot_radius * pitch);
        }
    }
}
