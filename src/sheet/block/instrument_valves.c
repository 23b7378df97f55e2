#include "sheet/block/instrument_lay.h"

#include "base/pi.h"

#include <math.h>

/* At unit 1, mm. */
static const double line_pen = 0.28;
static const double fine_pen = 0.14;
static const double tube_wide = 0.75; /* of a loop, between its lines */

enum { BEND = 12 };

/* A bow of tubing: two lines of a U, from the case down. */
static void draw_bow(struct hbk_pad *pad,
                     const struct hbk_instrument_layout *layout, double x,
                     double top, const struct hbk_bows *bows, bool turned)
{
    const double middle = 0.5 * bows->width;
    const double sign = turned ? -1.0 : 1.0;
    for (int line = -1; line <= 1; line += 2) {
        struct hbk_point points[BEND + 3];
        const double radius =
            fmax(0.12 * layout->u, middle + 0.5 * line * tube_wide * layout->u);
        size_t n = 0;
        points[n++] = (struct hbk_point){x - radius, top};
        for (int i = 0; i <= BEND; i++) {
            const double angle = HBK_PI * i / BEND;
            points[n].x = x - radius * cos(angle);
            points[n].y = top + sign * (bows->leg + radius * sin(angle));
            n++;
        }
        points[n++] = (struct hbk_point){x + radius, top};
        hbk_pad_path(pad, n, points, line_pen * layout->u);
    }
}

/*
 * Bows side by side, open to the case; between two of them the tube turns back
 * at the case.
 */
static void draw_loop(struct hbk_pad *pad,
                      const struct hbk_instrument_layout *layout,
                      const struct hbk_instrument_part *part, double top)
{
    const struct hbk_bows bows = hbk_instrument_bows(layout, part->site);
    for (size_t i = 0; i < bows.n; i++) {
        const double step =
            bows.width + tube_wide * layout->u + 0.5 * layout->u;
        const double x =
            part->x + step * ((double)i - 0.5 * (double)(bows.n - 1));
        draw_bow(pad, layout, x, top, &bows, false);
    }
}

static void draw_case(struct hbk_pad *pad,
                      const struct hbk_instrument_layout *layout, double x,
                      double axis)
{
    const double u = layout->u;
    const double half = 0.5 * HBK_INSTRUMENT_CASE_WIDTH * u;
    const double tall = HBK_INSTRUMENT_CASE * layout->g;
    hbk_pad_panel(pad, x - half, axis - tall, 2.0 * half, 2.0 * tall,
                  HBK_WHITE);
    hbk_pad_frame(pad, x - half, axis - tall, 2.0 * half, 2.0 * tall,
                  line_pen * u);
    for (int shade = 0; shade < 4; shade++) {
        hbk_pad_line(pad, x + (0.45 + 0.14 * shade) * half, axis - tall, 0.0,
                     2.0 * tall, fine_pen * u);
    }
    for (int cap = -1; cap <= 1; cap += 2) {
        const double y = cap < 0 ? axis - tall - 1.2 * u : axis + tall;
        hbk_pad_panel(pad, x - 1.1 * half, y, 2.2 * half, 1.2 * u, HBK_WHITE);
        hbk_pad_frame(pad, x - 1.1 * half, y, 2.2 * half, 1.2 * u,
                      line_pen * u);
    }
}

void hbk_instrument_valve(struct hbk_pad *pad,
                          const struct hbk_instrument_layout *layout,
                          const struct hbk_instrument_part *part, double axis)
{
    const double u = layout->u;
    const double tall = HBK_INSTRUMENT_CASE * layout->g + 1.2 * u;
    const double touch = axis - HBK_INSTRUMENT_TOUCH * layout->g;
    draw_loop(pad, layout, part, axis + tall);
    draw_case(pad, layout, part->x, axis);
    hbk_pad_line(pad, part->x, axis - tall, part->touch - part->x,
                 touch + layout->ring - (axis - tall), 3.0 * line_pen * u);
}
