#include "sheet/block/instrument_lay.h"

#include "base/pi.h"
#include "sheet/block/unrolled.h"
#include "sheet/words/words_slides.h"

#include <math.h>

/* At unit 1, mm. */
static const double wall_pen = 0.32;
static const double line_pen = 0.14;
static const double slide_name_points = 8.0;
static const double slide_name_reach = 16.0; /* of what stands beside it */

enum { WALL = 72, RIM = 40 };

/* Shares of the tube, closer together where the bell opens. */
static double wall_share(int i)
{
    const double t = (double)i / (WALL - 1);
    return 1.0 - pow(1.0 - t, 1.8);
}

/* A line along the tube at so much of its half width, from one share on. */
static void follow(struct hbk_pad *pad,
                   const struct hbk_instrument_layout *layout, double axis,
                   double of_half, double from, double pen)
{
    const struct hbk_instrument *instrument = layout->instrument;
    struct hbk_point points[WALL];
    size_t n = 0;
    for (int i = 0; i < WALL; i++) {
        const double share = wall_share(i);
        if (share < from) {
            continue;
        }
        points[n].x = instrument->x + share * instrument->width;
        points[n].y = axis + of_half * hbk_instrument_half(layout, share);
        n++;
    }
    hbk_pad_path(pad, n, points, pen);
}

/* The mouth of the bell, seen a little from the side. */
static void draw_rim(struct hbk_pad *pad,
                     const struct hbk_instrument_layout *layout, double axis)
{
    const struct hbk_instrument *instrument = layout->instrument;
    const double tall = hbk_instrument_half(layout, 1.0);
    for (int ring = 0; ring < 2; ring++) {
        struct hbk_point points[RIM + 1];
        const double across = (ring == 0 ? 2.1 : 1.5) * layout->u;
        const double high = ring == 0 ? tall : tall - 0.7 * layout->u;
        for (int i = 0; i <= RIM; i++) {
            const double angle = 2.0 * HBK_PI * i / RIM;
            points[i].x =
                instrument->x + instrument->width + across * cos(angle);
            points[i].y = axis + high * sin(angle);
        }
        hbk_pad_path(pad, RIM + 1, points,
                     (ring == 0 ? wall_pen : line_pen) * layout->u);
    }
}

/* A cup, a throat and a shank: a sign of a mouthpiece, not to scale. */
static void draw_mouthpiece(struct hbk_pad *pad,
                            const struct hbk_instrument_layout *layout,
                            double axis)
{
    const double u = layout->u;
    const double x = layout->instrument->x;
    const double shank = 0.82 * hbk_instrument_half(layout, 0.0);
    enum { POINTS = 9 };
    /* From the rim to the receiver: distance left of it, half width. */
    const double shape[POINTS][2] = {{10.4, 3.5}, {9.6, 3.45}, {8.6, 3.0},
                                     {7.6, 2.1},  {6.6, 1.15}, {5.8, 0.8},
                                     {5.0, 0.72}, {3.0, 0.8},  {0.0, -1.0}};
    for (int side = -1; side <= 1; side += 2) {
        struct hbk_point points[POINTS];
        for (int i = 0; i < POINTS; i++) {
            const double half =
                shape[i][1] < 0.0 ? shank : shape[i][1] * 0.9 * u;
            points[i].x = x - shape[i][0] * u;
            points[i].y = axis + side * fmin(half, 3.5 * u);
        }
        hbk_pad_path(pad, POINTS, points, wall_pen * u);
    }
    hbk_pad_line(pad, x - 10.4 * u, axis - 3.4 * u, 0.0, 6.8 * u,
                 1.6 * wall_pen * u);
    hbk_pad_line(pad, x - 9.5 * u, axis - 3.0 * u, 0.0, 6.0 * u, line_pen * u);
    hbk_pad_line(pad, x, axis - hbk_instrument_half(layout, 0.0), 0.0,
                 2.0 * hbk_instrument_half(layout, 0.0), wall_pen * u);
}

/* Where the name of a slide stands clear of what is beside it. */
struct slide_name {
    double x;
    double below; /* the tube, mm at unit 1 */
    enum hbk_align align;
};

/*
 * Under the names of keys where the slide lies among them; towards the
 * mouthpiece where the loops of a valve hang beside it.
 */
static struct slide_name name_place(const struct hbk_instrument_layout *layout,
                                    double x)
{
    const struct hbk_horn *horn = layout->instrument->notes->horn;
    const double beside = (0.5 * HBK_INSTRUMENT_CASE_WIDTH + 1.0) * layout->u;
    struct slide_name name = {
        .x = x + 0.6 * layout->u, .below = 3.4, .align = HBK_CENTRE};
    for (size_t i = 0; i < layout->n; i++) {
        const struct hbk_instrument_part *part = &layout->parts[i];
        if (fabs(part->x - x) > slide_name_reach * layout->u) {
            continue;
        }
        if (horn->controls[part->control].kind == HBK_KEY) {
            name.below = 7.6;
        } else if (part->x > x) {
            name.align = HBK_RIGHT;
            name.x = fmin(name.x, part->x - beside);
        }
    }
    return name;
}

/* Two strokes across the tube, and what is drawn there. */
static void draw_slide(struct hbk_pad *pad,
                       const struct hbk_instrument_layout *layout, double x,
                       double axis, const char *name)
{
    const double u = layout->u;
    const double half =
        hbk_instrument_half(layout, hbk_instrument_share(layout, x)) + 1.3 * u;
    for (int i = 0; i < 2; i++) {
        hbk_pad_line(pad, x + 1.2 * i * u, axis - half, 0.0, 2.0 * half,
                     1.2 * wall_pen * u);
    }
    const struct slide_name place = name_place(layout, x);
    struct hbk_style style =
        hbk_style_of(HBK_FACE_ITALIC, slide_name_points, u, place.align);
    hbk_pad_group(pad);
    hbk_pad_text(pad, place.x, axis + half + place.below * u, style, name);
}

static void draw_slides(struct hbk_pad *pad,
                        const struct hbk_instrument_layout *layout, double axis)
{
    const struct hbk_instrument *instrument = layout->instrument;
    const struct hbk_horn *horn = instrument->notes->horn;
    const unsigned body = pad->group;
    double least = instrument->x + 6.0 * layout->u;
    for (size_t i = 0; i < horn->n_slides; i++) {
        if (!hbk_unrolled_has_slide(horn, i)) {
            continue;
        }
        const double at_m = horn->slides[i].at_m;
        const double x = fmax(
            least, isnan(at_m) ? 0.0 : instrument->x + at_m * layout->scale);
        pad->group = body;
        draw_slide(pad, layout, x, axis,
                   hbk_words_slide_name(pad->sheet->arena, &horn->slides[i]));
        least = x + 18.0 * layout->u;
    }
}

void hbk_instrument_body(struct hbk_pad *pad,
                         const struct hbk_instrument_layout *layout,
                         double axis)
{
    const double pen = wall_pen * layout->u;
    const double fine = line_pen * layout->u;
    follow(pad, layout, axis, -1.0, 0.0, pen);
    follow(pad, layout, axis, 1.0, 0.0, pen);
    /* The engraver's shading, on the under side and once above. */
    static const struct {
        double of_half, from;
    } shades[] = {{0.90, 0.0},  {0.78, 0.12}, {0.64, 0.35},
                  {0.48, 0.72}, {0.30, 0.88}, {-0.86, 0.3}};
    for (size_t i = 0; i < sizeof(shades) / sizeof(shades[0]); i++) {
        follow(pad, layout, axis, shades[i].of_half, shades[i].from, fine);
    }
    draw_rim(pad, layout, axis);
    draw_mouthpiece(pad, layout, axis);
    draw_slides(pad, layout, axis);
}
