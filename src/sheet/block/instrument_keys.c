#include "sheet/block/instrument_lay.h"

#include "base/pi.h"
#include "sheet/words/words.h"

#include <math.h>

/* At unit 1, mm. */
static const double line_pen = 0.28;
static const double lever_pen = 0.36;
static const double chimney_half = 1.7;
static const double chimney_tall = 1.7;
static const double lid_half = 2.3;
static const double lid_tall = 1.3;
/* How far an open key stands up, about the corner away from the bell. */
static const double open_angle = 41.0 * HBK_PI / 180.0;

static void put_white(struct hbk_pad *pad, double x, double y, double dx,
                      double dy)
{
    hbk_pad_panel(pad, x, y, dx, dy, HBK_WHITE);
}

/* The lid, flat beneath and rounded above, about its left lower corner. */
static void draw_lid(struct hbk_pad *pad,
                     const struct hbk_instrument_layout *layout, double x,
                     double y, double angle)
{
    enum { ARC = 10 };
    const double wide = 2.0 * lid_half * layout->u;
    const double tall = lid_tall * layout->u;
    struct hbk_point points[ARC + 1];
    for (int i = 0; i <= ARC; i++) {
        const double along = 0.5 * (1.0 - cos(HBK_PI * i / ARC));
        const double dx = wide * along;
        const double dy = tall * sin(HBK_PI * i / ARC);
        points[i].x = x + dx * cos(angle) - dy * sin(angle);
        points[i].y = y - dx * sin(angle) - dy * cos(angle);
    }
    hbk_pad_shape(pad, ARC + 1, points);
}

static void draw_chimney(struct hbk_pad *pad,
                         const struct hbk_instrument_layout *layout, double x,
                         double foot, double top)
{
    const double u = layout->u;
    put_white(pad, x - chimney_half * u, top, 2.0 * chimney_half * u,
              foot - top - 0.05 * u);
    for (int side = -1; side <= 1; side += 2) {
        hbk_pad_line(pad, x + side * chimney_half * u, top, 0.0, foot - top,
                     line_pen * u);
    }
}

void hbk_instrument_key(struct hbk_pad *pad,
                        const struct hbk_instrument_layout *layout,
                        const struct hbk_instrument_part *part, double axis)
{
    const double u = layout->u;
    const struct hbk_horn *horn = layout->instrument->notes->horn;
    const struct hbk_control *control = &horn->controls[part->control];
    const double share = hbk_instrument_share(layout, part->x);
    const double wall = axis - hbk_instrument_half(layout, share);
    const double foot = wall + 0.1 * u;
    const double top = wall - chimney_tall * u;
    const double touch = axis - HBK_INSTRUMENT_TOUCH * layout->g;
    const struct hbk_stuck *stuck = &layout->instrument->notes->setting.stuck;
    const bool held = (stuck->held_down >> part->control & 1u) != 0;
    const double angle = control->stands_open != held ? open_angle : 0.0;
    draw_chimney(pad, layout, part->x, foot, top);
    draw_lid(pad, layout, part->x - lid_half * u, top, angle);
    /* From the middle of the lid to the ring. */
    const double lid_x = part->x - lid_half * u + lid_half * u * cos(angle) -
                         0.6 * lid_tall * u * sin(angle);
    const double lid_y =
        top - lid_half * u * sin(angle) - 0.6 * lid_tall * u * cos(angle);
    const double dx = part->touch - lid_x;
    const double dy = touch - lid_y;
    const double far = hypot(dx, dy);
    const double to = far > layout->ring ? (far - layout->ring) / far : 0.0;
    hbk_pad_line(pad, lid_x, lid_y, to * dx, to * dy, lever_pen * u);
}

void hbk_instrument_trigger(struct hbk_pad *pad,
                            const struct hbk_instrument_layout *layout,
                            const struct hbk_instrument_part *part, double axis)
{
    const double u = layout->u;
    const double share = hbk_instrument_share(layout, part->x);
    const double half = hbk_instrument_half(layout, share) + 1.1 * u;
    const double touch = axis - HBK_INSTRUMENT_TOUCH * layout->g;
    const struct hbk_instrument_part *valve =
        hbk_instrument_drawn(layout, part);
    if (valve != NULL) {
        /* A lever down to a stay across the legs of the valve's slide. */
        const struct hbk_bows bows = hbk_instrument_bows(layout, valve->site);
        const double across =
            0.5 * ((double)bows.n * (bows.width + 1.3 * u)) + 0.8 * u;
        const double foot =
            axis + HBK_INSTRUMENT_CASE * layout->g + 1.2 * u + 0.6 * bows.leg;
        const double right = fmax(valve->x + across, part->touch);
        hbk_pad_line(pad, part->touch, touch + layout->ring, 0.0,
                     foot - touch - layout->ring, lever_pen * u);
        for (int i = 0; i < 2; i++) {
            hbk_pad_line(pad, valve->x - across, foot + 0.8 * i * u,
                         right - valve->x + across, 0.0, lever_pen * u);
        }
        return;
    }
    hbk_pad_line(pad, part->x, axis - half, 0.0, 2.0 * half, lever_pen * u);
    hbk_pad_line(pad, part->x + 1.2 * u, axis - half, 0.0, 2.0 * half,
                 lever_pen * u);
    const double dy = touch + layout->ring - (axis - half);
    hbk_pad_line(pad, part->x, axis - half, part->touch - part->x, dy,
                 lever_pen * u);
}
