#include "engrave/quill.h"

#include "engrave/glyph.h"

#include <math.h>
#include <string.h>

static const double step = 0.5;
/* Columns beyond both ends of the staff. */
enum { BEYOND = 16 };

/* Thickness of a slur at its ends and in its middle, from the SMuFL sample. */
static const double slur_end = 0.1;
static const double slur_middle = 0.22;
/* Where the control points stand along a slur: nearer the ends when long. */
static const double slur_shoulder = 0.28;
static const double dash_on = 0.7;
static const double dash_off = 0.9;

void hbk_quill_open(struct hbk_quill *quill, struct hbk_pad *pad, double x,
                    double y, double space, double width)
{
    *quill = (struct hbk_quill){.pad = pad, .x = x, .y = y, .space = space};
    struct hbk_arena *arena = pad->sheet->arena;
    quill->sky.n = (size_t)ceil(width / step) + 2 * BEYOND + 1;
    quill->sky.top = HBK_ARENA_ARRAY(arena, double, quill->sky.n);
    quill->sky.bottom = HBK_ARENA_ARRAY(arena, double, quill->sky.n);
    for (size_t i = 0; i < quill->sky.n; i++) {
        quill->sky.top[i] = 4.0;
    }
}

static size_t column_at(const struct hbk_sky *sky, double x)
{
    const double at = floor(x / step) + BEYOND;
    if (!(at > 0.0)) {
        return 0;
    }
    return at >= (double)sky->n ? sky->n - 1 : (size_t)at;
}

double hbk_quill_top(const struct hbk_quill *quill, double x0, double x1)
{
    double top = 4.0;
    const size_t end = column_at(&quill->sky, x1);
    for (size_t i = column_at(&quill->sky, x0); i <= end; i++) {
        top = fmax(top, quill->sky.top[i]);
    }
    return top;
}

double hbk_quill_bottom(const struct hbk_quill *quill, double x0, double x1)
{
    double bottom = 0.0;
    const size_t end = column_at(&quill->sky, x1);
    for (size_t i = column_at(&quill->sky, x0); i <= end; i++) {
        bottom = fmin(bottom, quill->sky.bottom[i]);
    }
    return bottom;
}

void hbk_quill_fill(struct hbk_quill *quill, double x0, double x1,
                    double bottom, double top)
{
    const size_t end = column_at(&quill->sky, fmax(x0, x1));
    for (size_t i = column_at(&quill->sky, fmin(x0, x1)); i <= end; i++) {
        quill->sky.top[i] = fmax(quill->sky.top[i], fmax(bottom, top));
        quill->sky.bottom[i] = fmin(quill->sky.bottom[i], fmin(bottom, top));
    }
}

static double mm_x(const struct hbk_quill *quill, double x)
{
    return quill->x + x * quill->space;
}

static double mm_y(const struct hbk_quill *quill, double y)
{
    return quill->y - y * quill->space;
}

void hbk_quill_line(struct hbk_quill *quill, double x, double y, double dx,
                    double dy, double pen)
{
    hbk_pad_line(quill->pad, mm_x(quill, x), mm_y(quill, y), dx * quill->space,
                 -dy * quill->space, pen * quill->space);
    const double low = fmin(y, y + dy) - 0.5 * pen;
    hbk_quill_fill(quill, x, x + dx, low, fmax(y, y + dy) + 0.5 * pen);
}

void hbk_quill_block(struct hbk_quill *quill, double x, double y, double dx,
                     double dy)
{
    hbk_pad_panel(quill->pad, mm_x(quill, x), mm_y(quill, y + dy),
                  dx * quill->space, dy * quill->space, HBK_BLACK);
    hbk_quill_fill(quill, x, x + dx, y, y + dy);
}

void hbk_quill_disc(struct hbk_quill *quill, double x, double y, double radius)
{
    hbk_pad_disc(quill->pad, mm_x(quill, x), mm_y(quill, y),
                 radius * quill->space);
    hbk_quill_fill(quill, x - radius, x + radius, y - radius, y + radius);
}

void hbk_quill_glyph(struct hbk_quill *quill, double x, double y, double scale,
                     uint32_t glyph, const char *reads)
{
    hbk_pad_glyph(quill->pad, mm_x(quill, x), mm_y(quill, y),
                  scale * quill->space, glyph, reads);
    const struct hbk_glyph_box box = hbk_glyph_box(glyph);
    hbk_quill_fill(quill, x, x + scale * box.width, y + scale * box.bottom,
                   y + scale * box.top);
}

/* In mm, in the arena; the skyline takes the points' box. */
static struct hbk_point *points_of(struct hbk_quill *quill, size_t n,
                                   const struct hbk_point points[])
{
    struct hbk_point *kept =
        HBK_ARENA_ARRAY(quill->pad->sheet->arena, struct hbk_point, n);
    for (size_t i = 0; i < n; i++) {
        kept[i].x = mm_x(quill, points[i].x);
        kept[i].y = mm_y(quill, points[i].y);
    }
    return kept;
}

static void fill_points(struct hbk_quill *quill, size_t n,
                        const struct hbk_point points[], double beyond)
{
    for (size_t i = 0; i < n; i++) {
        const struct hbk_point *next = &points[(i + 1) % n];
        const double low = fmin(points[i].y, next->y) - beyond;
        hbk_quill_fill(quill, fmin(points[i].x, next->x) - beyond,
                       fmax(points[i].x, next->x) + beyond, low,
                       fmax(points[i].y, next->y) + beyond);
    }
}

void hbk_quill_shape(struct hbk_quill *quill, size_t n,
                     const struct hbk_point points[])
{
    hbk_pad_add(quill->pad,
                (struct hbk_mark){.kind = HBK_SHAPE,
                                  .n_points = n,
                                  .points = points_of(quill, n, points)});
    fill_points(quill, n, points, 0.0);
}

void hbk_quill_path(struct hbk_quill *quill, size_t n,
                    const struct hbk_point points[], double pen)
{
    hbk_pad_add(quill->pad,
                (struct hbk_mark){.kind = HBK_PATH,
                                  .pen = pen * quill->space,
                                  .n_points = n,
                                  .points = points_of(quill, n, points)});
    for (size_t i = 0; i + 1 < n; i++) {
        fill_points(quill, 2, points + i, 0.5 * pen);
    }
}

/* The cubic through four points of Bernstein form. */
static struct hbk_point cubic(const struct hbk_point p[4], double t)
{
    const double s = 1.0 - t;
    const double a = s * s * s;
    const double b = 3.0 * s * s * t;
    const double c = 3.0 * s * t * t;
    const double d = t * t * t;
    const struct hbk_point at = {
        a * p[0].x + b * p[1].x + c * p[2].x + d * p[3].x,
        a * p[0].y + b * p[1].y + c * p[2].y + d * p[3].y};
    return at;
}

void hbk_quill_band(struct hbk_quill *quill, const struct hbk_point points[8])
{
    hbk_pad_add(quill->pad,
                (struct hbk_mark){.kind = HBK_CURVE,
                                  .n_points = 8,
                                  .points = points_of(quill, 8, points)});
    struct hbk_point there = points[0];
    struct hbk_point back = points[7];
    for (int i = 1; i <= 16; i++) {
        const struct hbk_point to = cubic(points, i / 16.0);
        const struct hbk_point fro = cubic(points + 4, 1.0 - i / 16.0);
        hbk_quill_fill(quill, there.x, to.x, there.y, to.y);
        hbk_quill_fill(quill, back.x, fro.x, back.y, fro.y);
        there = to;
        back = fro;
    }
}

static void slur_points(struct hbk_point from, struct hbk_point to, double lift,
                        struct hbk_point p[4])
{
    const double dx = to.x - from.x;
    const double dy = to.y - from.y;
    p[0] = from;
    p[1].x = from.x + slur_shoulder * dx;
    p[1].y = from.y + slur_shoulder * dy + lift;
    p[2].x = to.x - slur_shoulder * dx;
    p[2].y = to.y - slur_shoulder * dy + lift;
    p[3] = to;
}

struct hbk_point hbk_quill_slur_at(struct hbk_point from, struct hbk_point to,
                                   double lift, double t)
{
    struct hbk_point p[4];
    slur_points(from, to, lift, p);
    return cubic(p, t);
}

void hbk_quill_slur(struct hbk_quill *quill, struct hbk_point from,
                    struct hbk_point to, double lift)
{
    struct hbk_point p[4];
    slur_points(from, to, lift, p);
    const double side = lift > 0.0 ? 1.0 : -1.0;
    /* Control points move by 4/3 of what the middle of the curve does. */
    const double end = 0.5 * slur_end * side;
    const double middle =
        end + 4.0 / 3.0 * 0.5 * (slur_middle - slur_end) * side;
    const struct hbk_point band[8] = {
        {p[0].x, p[0].y + end},    {p[1].x, p[1].y + middle},
        {p[2].x, p[2].y + middle}, {p[3].x, p[3].y + end},
        {p[3].x, p[3].y - end},    {p[2].x, p[2].y - middle},
        {p[1].x, p[1].y - middle}, {p[0].x, p[0].y - end}};
    hbk_quill_band(quill, band);
}

double hbk_quill_width(const struct hbk_quill *quill, struct hbk_style style,
                       const char *text)
{
    style.size *= quill->space;
    return hbk_pad_width(quill->pad, style, text) / quill->space;
}

void hbk_quill_text(struct hbk_quill *quill, double x, double y,
                    struct hbk_style style, const char *text)
{
    static const double shares[] = {
        [HBK_LEFT] = 0.0, [HBK_CENTRE] = 0.5, [HBK_RIGHT] = 1.0};
    const double width = hbk_quill_width(quill, style, text);
    const double left = x - shares[style.align] * width;
    /* The tallest letter and the deepest descender of the faces, in ems. */
    hbk_quill_fill(quill, left, left + width, y - 0.24 * style.size,
                   y + 0.76 * style.size);
    style.size *= quill->space;
    hbk_pad_text(quill->pad, mm_x(quill, x), mm_y(quill, y), style, text);
}

double hbk_quill_em(const struct hbk_quill *quill, double em, double points)
{
    return fmax(em, HBK_PT(points) / quill->space);
}

void hbk_quill_ring(struct hbk_quill *quill, double x, double y, double radius,
                    double pen)
{
    hbk_pad_ring(quill->pad, mm_x(quill, x), mm_y(quill, y),
                 radius * quill->space, pen * quill->space);
    const double out = radius + 0.5 * pen;
    hbk_quill_fill(quill, x - out, x + out, y - out, y + out);
}

void hbk_quill_dashes(struct hbk_quill *quill, double x, double y, double dx,
                      double pen)
{
    hbk_pad_add(quill->pad,
                (struct hbk_mark){
                    .kind = HBK_LINE,
                    .x = mm_x(quill, x),
                    .y = mm_y(quill, y),
                    .dx = dx * quill->space,
                    .pen = pen * quill->space,
                    .dash = {dash_on * quill->space, dash_off * quill->space}});
    hbk_quill_fill(quill, x, x + dx, y - 0.5 * pen, y + 0.5 * pen);
}

void hbk_quill_say(struct hbk_quill *quill, double x, double y,
                   const char *text)
{
    hbk_pad_say(quill->pad, mm_x(quill, x), mm_y(quill, y), text);
}
