#include "sheet/block/hand.h"

#include "horn/about.h"

#include <math.h>

/* In pitches: thumb to index. */
static const double thumb_gap = 0.45;

void hbk_hands_arrange(const struct hbk_horn *horn, struct hbk_hands *hands)
{
    *hands = (struct hbk_hands){0};
    for (int hand = 0; hand < 2; hand++) {
        const size_t before = hands->n;
        double x = 0.0;
        int last_digit = -1;
        for (int finger = 0; finger < HBK_FINGER_COUNT; finger++) {
            const enum hbk_finger name = (enum hbk_finger)finger;
            for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
                if (hbk_horn_control(horn, i)->fingers[0] != name ||
                    hbk_finger_is_left(name) != (hand == 0)) {
                    continue;
                }
                if (hands->n > before) {
                    x += 1.0;
                }
                if (last_digit == 0 && hbk_finger_digit(name) != 0) {
                    x += thumb_gap;
                }
                last_digit = hbk_finger_digit(name);
                hands->spots[hands->n++] =
                    (struct hbk_spot){i, name, hands->n_rows, x};
            }
        }
        if (hands->n > before) {
            hands->left[hands->n_rows++] = hand == 0;
            hands->width = x > hands->width ? x : hands->width;
        }
    }
}

const char *hbk_hands_order(const struct hbk_hands *hands)
{
    static const char *const orders[2][2] = {
        {"finger by finger, the index first", "finger by finger, thumb first"},
        {"hand by hand, left above right",
         "hand by hand, left above right, thumb first"}};
    bool thumb = false;
    bool index = false;
    for (size_t i = 0; i < hands->n; i++) {
        thumb = thumb || hbk_finger_digit(hands->spots[i].finger) == 0;
        index = index || hbk_finger_digit(hands->spots[i].finger) == 1;
    }
    if (hands->n_rows < 2 && !thumb && !index) {
        return "finger by finger";
    }
    return orders[hands->n_rows > 1][thumb];
}

void hbk_spot_draw(struct hbk_pad *pad, const struct hbk_control *control,
                   double x, double y, double radius, bool pressed)
{
    const double pen = 0.16 * radius < 0.2 ? 0.2 : 0.16 * radius;
    if (control->stands_open) {
        /* A square of nearly the same area looks as large as the circle. */
        const double half = 0.9 * radius;
        if (pressed) {
            hbk_pad_panel(pad, x - half, y - half, 2.0 * half, 2.0 * half,
                          HBK_BLACK);
        } else {
            hbk_pad_frame(pad, x - half + 0.5 * pen, y - half + 0.5 * pen,
                          2.0 * half - pen, 2.0 * half - pen, pen);
        }
        return;
    }
    if (pressed) {
        hbk_pad_disc(pad, x, y, radius);
        return;
    }
    hbk_pad_ring(pad, x, y, radius - 0.5 * pen, pen);
    if (control->rests_in) {
        hbk_pad_ring(pad, x, y, 0.5 * radius, 0.7 * pen);
    }
}

void hbk_spot_cross(struct hbk_pad *pad, double x, double y, double radius)
{
    const double reach = 0.7 * radius;
    const double pen = fmax(0.2, 0.16 * radius);
    hbk_pad_line(pad, x - reach, y - reach, 2.0 * reach, 2.0 * reach, pen);
    hbk_pad_line(pad, x - reach, y + reach, 2.0 * reach, -2.0 * reach, pen);
}

void hbk_hands_draw(struct hbk_pad *pad, const struct hbk_horn *horn,
                    const struct hbk_hands *hands, double centre, double y,
                    double pitch, uint32_t press)
{
    hbk_pad_group(pad);
    for (size_t row = 0; row < hands->n_rows; row++) {
        double width = 0.0;
        for (size_t i = 0; i < hands->n; i++) {
            if (hands->spots[i].row == row) {
                width = hands->spots[i].x;
            }
        }
        for (size_t i = 0; i < hands->n; i++) {
            const struct hbk_spot *spot = &hands->spots[i];
            if (spot->row != row) {
                continue;
            }
            const double x = centre + (spot->x - 0.5 * width) * pitch;
            const double level = y + (double)row * pitch;
            hbk_spot_draw(pad, hbk_horn_control(horn, spot->control), x, level,
                          HBK_SPOT_RADIUS * pitch,
                          (press >> spot->control & 1u) != 0);
            if ((hands->stuck >> spot->control & 1u) != 0) {
                hbk_spot_cross(pad, x, level, HBK_SPOT_RADIUS * pitch);
            }
        }
    }
}
