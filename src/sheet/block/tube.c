#include "sheet/block/tube.h"

#include "base/pi.h"
#include "horn/horn.h"
#include "sheet/block/hand.h"
#include "sheet/block/tube_lay.h"

#include <math.h>

/* mm, in units of the drawing. */
static const double pen = 0.18;

enum { FLARE_STEPS = 24 };

static void draw_walls(struct hbk_pad *pad,
                       const struct hbk_unrolled_layout *layout, double x,
                       double axis, double from, double to)
{
    const double u = layout->tube->unit;
    const double a = hbk_unrolled_half(layout, from);
    const double b = hbk_unrolled_half(layout, to);
    const double left = x + layout->left + (from * layout->length);
    const double dx = (to - from) * layout->length;
    hbk_pad_line(pad, left, axis - a, dx, a - b, 1.4 * pen * u);
    hbk_pad_line(pad, left, axis + a, dx, b - a, 1.4 * pen * u);
}

/* In short lines: each is a mark of its own, no larger than what it draws. */
static void draw_tube(struct hbk_pad *pad,
                      const struct hbk_unrolled_layout *layout, double x,
                      double axis)
{
    const struct hbk_horn *horn = layout->tube->notes->horn;
    const double u = layout->tube->unit;
    if (horn->model == HBK_MODEL_BORE) {
        const double whole = layout->whole_m;
        for (size_t i = 1; i < horn->bore.n_stations; i++) {
            draw_walls(pad, layout, x, axis,
                       horn->bore.stations[i - 1].x_m / whole,
                       horn->bore.stations[i].x_m / whole);
        }
    } else {
        for (int i = 0; i < FLARE_STEPS; i++) {
            /* Shorter towards the bell, where the wall bends. */
            const double a = 1.0 - pow(1.0 - (double)i / FLARE_STEPS, 2.0);
            const double b = 1.0 - pow(1.0 - (i + 1.0) / FLARE_STEPS, 2.0);
            draw_walls(pad, layout, x, axis, a, b);
        }
    }
    const double bell = hbk_unrolled_half(layout, 1.0);
    hbk_pad_line(pad, x + layout->left + layout->length, axis - bell, 0.0,
                 2.0 * bell, 1.4 * pen * u);
    /* The mouthpiece: a sign, not to scale. */
    const double start = hbk_unrolled_half(layout, 0.0);
    const double rim = x + 0.3 * u;
    const double throat = x + 2.2 * u;
    hbk_pad_line(pad, rim, axis - 1.5 * u, 0.0, 3.0 * u, 2.5 * pen * u);
    for (double side = -1.0; side < 1.5; side += 2.0) {
        hbk_pad_line(pad, rim, axis + side * 1.3 * u, throat - rim,
                     side * -1.0 * u, pen * u);
        hbk_pad_line(pad, throat, axis + side * 0.3 * u,
                     x + layout->left - throat, side * (start - 0.3 * u),
                     pen * u);
    }
}

static void draw_hole(struct hbk_pad *pad,
                      const struct hbk_unrolled_layout *layout,
                      const struct hbk_unrolled_part *part, double x,
                      double axis)
{
    const double u = layout->tube->unit;
    const struct hbk_hole *hole = &part->site->hole;
    double radius = 0.75 * u;
    if (layout->widths > 0.0 && !isnan(hole->diameter_m)) {
        radius = 0.5 * hole->diameter_m * layout->widths;
    }
    if (part->site->at_rest) {
        hbk_pad_frame(pad, x - 0.9 * radius, axis - 0.9 * radius, 1.8 * radius,
                      1.8 * radius, 1.4 * pen * u);
    } else {
        hbk_pad_ring(pad, x, axis, radius, 1.4 * pen * u);
    }
}

static void draw_arc(struct hbk_pad *pad, double x, double y, double radius,
                     double from, double pen_mm)
{
    enum { STEPS = 8 };
    for (int i = 0; i < STEPS; i++) {
        const double a = from + (HBK_PI * i / STEPS);
        const double b = from + (HBK_PI * (i + 1) / STEPS);
        hbk_pad_line(pad, x + radius * cos(a), y + radius * sin(a),
                     radius * (cos(b) - cos(a)), radius * (sin(b) - sin(a)),
                     pen_mm);
    }
}

/* Its line is as long as the loop's tube is, to the scale of the axis. */
static void draw_loop(struct hbk_pad *pad,
                      const struct hbk_unrolled_layout *layout,
                      const struct hbk_unrolled_part *part, double x,
                      double wall)
{
    const double u = layout->tube->unit;
    const double thick =
        (part->control != NULL && part->control->rests_in ? 3.0 : 1.6) * pen *
        u;
    const double radius = part->length / HBK_PI;
    if (part->length <= HBK_UNROLLED_ARC * u && part->level == 0) {
        draw_arc(pad, x + radius, wall, radius, 0.0, thick);
        return;
    }
    const double bend = 0.5 * HBK_UNROLLED_LEGS * u;
    const double top = 0.6 * u + part->level * HBK_UNROLLED_LOOP * u;
    const double down = (2.0 * top) + (2.0 * bend);
    const double legs = fmax(0.0, 0.5 * (part->length - down - (HBK_PI * bend) -
                                         (HBK_UNROLLED_LEGS * u)));
    const double turn = x + HBK_UNROLLED_LEGS * u + legs;
    hbk_pad_line(pad, x, wall, 0.0, top + 2.0 * bend, thick);
    hbk_pad_line(pad, x, wall + top + 2.0 * bend, turn - x, 0.0, thick);
    hbk_pad_line(pad, x + HBK_UNROLLED_LEGS * u, wall, 0.0, top, thick);
    hbk_pad_line(pad, x + HBK_UNROLLED_LEGS * u, wall + top, legs, 0.0, thick);
    draw_arc(pad, turn, wall + top + bend, bend, -0.5 * HBK_PI, thick);
}

/* Two strokes across the tube where a slide is drawn; see the caption. */
static void draw_slides(struct hbk_pad *pad,
                        const struct hbk_unrolled_layout *layout, double x,
                        double axis)
{
    const struct hbk_horn *horn = layout->tube->notes->horn;
    const double u = layout->tube->unit;
    for (size_t i = 0; i < horn->n_slides; i++) {
        const struct hbk_slide *slide = &horn->slides[i];
        if (!hbk_unrolled_has_slide(horn, i)) {
            continue;
        }
        const bool placed = !isnan(slide->at_m);
        const double share = placed ? slide->at_m / layout->whole_m : 0.0;
        const double half = hbk_unrolled_half(layout, share) + 0.6 * u;
        const double at = x + layout->left + share * layout->length;
        for (int k = 0; k < 2; k++) {
            hbk_pad_line(pad, at + 0.7 * k * u, axis - half, 0.0, 2.0 * half,
                         pen * u);
        }
    }
}

static void draw_ruler(struct hbk_pad *pad,
                       const struct hbk_unrolled_layout *layout, double x,
                       double y)
{
    const double u = layout->tube->unit;
    const double whole = layout->whole_m;
    const double bell = x + layout->left + layout->length;
    struct hbk_style style = hbk_unrolled_small(u, 7.0);
    style.align = HBK_CENTRE;
    double free = INFINITY;
    hbk_pad_group(pad);
    const unsigned ticks = pad->group;
    hbk_pad_line(pad, x + layout->left, y, layout->length, 0.0, pen * u);
    for (int mm = 0; mm * 0.001 <= whole; mm += 100) {
        const double at = bell - (mm * 0.001 / whole * layout->length);
        pad->group = ticks;
        hbk_pad_line(pad, at, y, 0.0, (mm % 500 == 0 ? 1.2 : 0.8) * u, pen * u);
        const char *number = hbk_arena_printf(pad->sheet->arena, "%d", mm);
        const double half = 0.5 * hbk_pad_width(pad, style, number);
        if (at + half + 0.8 * u > free || at + half > x + layout->tube->width) {
            continue;
        }
        hbk_pad_group(pad);
        hbk_pad_text(pad, at, y + 3.4 * u, style, number);
        free = at - half;
    }
}

static void draw_label(struct hbk_pad *pad,
                       const struct hbk_unrolled_layout *layout,
                       const struct hbk_unrolled_part *part, double x, double y)
{
    const double u = layout->tube->unit;
    hbk_pad_group(pad);
    hbk_pad_text(pad, x, y + 2.6 * u, hbk_unrolled_name(u), part->label);
    if (part->control != NULL) {
        struct hbk_style style = hbk_unrolled_small(u, 7.0);
        style.align = HBK_CENTRE;
        hbk_pad_text(pad, x, y + 4.9 * u, style, part->is_left ? "L" : "R");
    }
}

static void draw_parts(struct hbk_pad *pad,
                       const struct hbk_unrolled_layout *layout, double x,
                       double axis)
{
    const double u = layout->tube->unit;
    const struct hbk_setting *set = &layout->tube->notes->setting;
    const uint32_t stuck = set->stuck.held_down | set->stuck.held_up;
    for (size_t i = 0; i < layout->n; i++) {
        const struct hbk_unrolled_part *part = &layout->parts[i];
        const double share = (part->x - layout->left) / layout->length;
        const double half = hbk_unrolled_half(layout, share);
        const bool is_loop = part->site->kind == HBK_LOOP;
        const double from =
            axis - layout->tall - (HBK_UNROLLED_LEADER - 0.3) * u;
        const double to = axis - half;
        if (is_loop) {
            draw_loop(pad, layout, part, x + part->x, axis + half);
        } else {
            draw_hole(pad, layout, part, x + part->x, axis);
        }
        if (part->site->n_terms > 0 && (part->site->terms[0] & stuck) != 0) {
            hbk_spot_cross(pad, x + part->x, is_loop ? axis + half : axis,
                           1.6 * u);
        }
        hbk_pad_line(pad, x + part->label_x, from, part->x - part->label_x,
                     to - from, 0.7 * pen * u);
    }
}

double hbk_unrolled_height(const struct hbk_pad *pad,
                           const struct hbk_unrolled *tube)
{
    struct hbk_pad copy = *pad;
    struct hbk_unrolled_layout layout;
    return hbk_unrolled_lay(&copy, tube, &layout) ? layout.height : 0.0;
}

double hbk_unrolled_draw(struct hbk_pad *pad, const struct hbk_unrolled *tube,
                         double x, double y)
{
    struct hbk_unrolled_layout layout;
    if (!hbk_unrolled_lay(pad, tube, &layout)) {
        return 0.0;
    }
    const double u = tube->unit;
    const double axis = y + layout.axis;
    hbk_pad_open(pad, HBK_TAG_FIGURE);
    hbk_pad_group(pad);
    draw_tube(pad, &layout, x, axis);
    draw_slides(pad, &layout, x, axis);
    draw_parts(pad, &layout, x, axis);
    for (size_t i = 0; i < layout.n; i++) {
        const struct hbk_unrolled_part *part = &layout.parts[i];
        draw_label(pad, &layout, part, x + part->label_x,
                   axis - layout.tall -
                       (HBK_UNROLLED_LABEL + HBK_UNROLLED_LEADER) * u);
    }
    double below = y + layout.bottom;
    if (tube->notes->horn->model == HBK_MODEL_BORE) {
        draw_ruler(pad, &layout, x, below);
        below += 4.5 * u;
    } else {
        below += 0.6 * u;
    }
    hbk_pad_group(pad);
    hbk_pad_lines(pad, x, below + 2.0 * u, hbk_unrolled_small(u, 7.0),
                  HBK_UNROLLED_LEADING * u, &layout.caption);
    hbk_pad_close(pad, HBK_TAG_FIGURE);
    return layout.height;
}
