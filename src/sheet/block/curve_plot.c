#include "sheet/block/curve_plot.h"

#include "base/text.h"
#include "horn/press.h"

#include <math.h>
#include <string.h>

/* mm, in units of the plot. */
static const double left_room = 11.0;
static const double top_room = 1.5;
static const double foot_room = 5.5;
static const double leader = 3.5;
static const double sample = 8.0;
/* Over the highest maximum, for its number. */
static const double head_db = 8.0;

struct line_kind {
    double pen;
    double dash[HBK_DASH_MAX];
};

/* Apart at arm's length on a poor copier: pattern first, then weight. */
static struct line_kind kind_of(size_t i)
{
    static const struct line_kind kinds[HBK_CURVES_MAX] = {
        {0.30, {0.0}}, {0.30, {2.2, 1.1}},           {0.45, {0.5, 0.8}},
        {0.75, {0.0}}, {0.30, {3.4, 0.9, 0.6, 0.9}}, {0.75, {2.2, 1.3}},
    };
    return kinds[i];
}

/* The plot being drawn: the frame, its scales, and what is taken up. */
struct box {
    double x, y, dx, dy;
};

struct trace {
    size_t n;
    struct hbk_point *points;
};

enum { BOXES_MAX = 256 };

struct frame {
    struct hbk_pad *pad;
    const struct hbk_curves *curves;
    double unit;
    double x, y, dx, dy;
    double low_db, high_db;
    struct trace traces[HBK_CURVES_MAX];
    size_t n_boxes;
    struct box boxes[BOXES_MAX];
};

static double x_of(const struct frame *f, double hz)
{
    return f->x + f->dx * hz / f->curves->to_hz;
}

static double y_of(const struct frame *f, double level_db)
{
    const double level = fmin(fmax(level_db, f->low_db), f->high_db);
    return f->y + f->dy * (f->high_db - level) / (f->high_db - f->low_db);
}

/*
 * Whole tens that hold every maximum with room for its number. Towards 0 Hz
 * the level falls without end, so the first twentieth does not count.
 */
static void set_levels(struct frame *f)
{
    const struct hbk_curves *const c = f->curves;
    double low = INFINITY;
    double high = -INFINITY;
    for (size_t i = 0; i < c->n; i++) {
        for (size_t k = 0; k < c->n_points; k++) {
            if (c->hz[k] >= 0.05 * c->to_hz) {
                low = fmin(low, c->curves[i].level_db[k]);
            }
            high = fmax(high, c->curves[i].level_db[k]);
        }
        for (size_t k = 0; k < c->curves[i].n_maxima; k++) {
            high = fmax(high, c->curves[i].maxima[k].level_db);
        }
    }
    f->low_db = 10.0 * floor(low / 10.0);
    f->high_db = 10.0 * ceil((high + head_db) / 10.0);
}

/*
 * The points of a curve, each maximum among them: a sharp one falls between
 * two points of the grid and would lose its tip.
 */
static void make_trace(struct frame *f, size_t i)
{
    const struct hbk_curves *const c = f->curves;
    const struct hbk_curve *const curve = &c->curves[i];
    struct trace *const trace = &f->traces[i];
    trace->points = HBK_ARENA_ARRAY(f->pad->sheet->arena, struct hbk_point,
                                    c->n_points + curve->n_maxima + 1);
    size_t m = 0;
    for (size_t k = 0; k < c->n_points; k++) {
        for (; m < curve->n_maxima && curve->maxima[m].at.hz < c->hz[k]; m++) {
            trace->points[trace->n++] =
                (struct hbk_point){x_of(f, curve->maxima[m].at.hz),
                                   y_of(f, curve->maxima[m].level_db)};
        }
        if (trace->n == 0 && curve->level_db[k] < f->low_db) {
            continue;
        }
        trace->points[trace->n++] =
            (struct hbk_point){x_of(f, c->hz[k]), y_of(f, curve->level_db[k])};
    }
}

static void draw_trace(struct frame *f, size_t i)
{
    const struct line_kind kind = kind_of(i);
    struct hbk_mark mark = {.kind = HBK_PATH,
                            .pen = kind.pen * f->unit,
                            .n_points = f->traces[i].n,
                            .points = f->traces[i].points};
    for (size_t k = 0; k < HBK_DASH_MAX; k++) {
        mark.dash[k] = kind.dash[k] * f->unit;
    }
    hbk_pad_add(f->pad, mark);
}

/* A piece of the i-th kind of line, from (x, y) to the right. */
static void draw_sample(struct hbk_pad *pad, size_t i, double x, double y,
                        double length, double unit)
{
    const struct line_kind kind = kind_of(i);
    struct hbk_mark mark = {
        .kind = HBK_LINE, .x = x, .y = y, .dx = length, .pen = kind.pen * unit};
    for (size_t k = 0; k < HBK_DASH_MAX; k++) {
        mark.dash[k] = kind.dash[k] * unit;
    }
    hbk_pad_add(pad, mark);
}

static void pale_line(struct frame *f, double x, double y, double dx, double dy)
{
    hbk_pad_add(f->pad, (struct hbk_mark){.kind = HBK_LINE,
                                          .ink = HBK_PALE,
                                          .x = x,
                                          .y = y,
                                          .dx = dx,
                                          .dy = dy,
                                          .pen = 0.2 * f->unit});
}

static const char *signed_number(struct frame *f, double value)
{
    return hbk_arena_printf(f->pad->sheet->arena, "%s%.0f",
                            value < 0.0 ? "\u2212" : "", fabs(value));
}

/* Tens of dB at the left, the unit with the uppermost. */
static void draw_levels(struct frame *f)
{
    const double u = f->unit;
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, 7.5, f->unit, HBK_RIGHT);
    for (double db = f->low_db; db <= f->high_db + 1.0; db += 10.0) {
        const double y = y_of(f, db);
        const bool inside = db > f->low_db + 1.0 && db < f->high_db - 1.0;
        if (inside) {
            pale_line(f, f->x, y, f->dx, 0.0);
            hbk_pad_line(f->pad, f->x, y, 1.2 * u, 0.0, 0.2 * u);
            hbk_pad_line(f->pad, f->x + f->dx - 1.2 * u, y, 1.2 * u, 0.0,
                         0.2 * u);
        }
        const char *const number = signed_number(f, db);
        hbk_pad_text(
            f->pad, f->x - 1.2 * u, y + 0.36 * style.size, style,
            db > f->high_db - 1.0
                ? hbk_arena_printf(f->pad->sheet->arena, "%s dB", number)
                : number);
    }
}

/* Steps of hertz that leave room for their numbers. */
static double hertz_step(const struct frame *f)
{
    static const double steps[] = {50.0, 100.0, 200.0, 500.0};
    size_t i = 0;
    while (i < 3 && f->dx * steps[i] / f->curves->to_hz < 11.0 * f->unit) {
        i++;
    }
    return steps[i];
}

static void draw_hertz(struct frame *f)
{
    const double u = f->unit;
    const double step = hertz_step(f);
    const double foot = f->y + f->dy;
    struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, 7.5, f->unit, HBK_CENTRE);
    const double baseline = foot + 1.4 * u + 0.76 * style.size;
    for (double hz = 0.0; hz <= f->curves->to_hz + 0.01; hz += step) {
        const double x = x_of(f, hz);
        if (hz > 0.0 && x < f->x + f->dx - 0.1) {
            hbk_pad_line(f->pad, x, foot - 1.6 * u, 0.0, 1.6 * u, 0.2 * u);
        }
        const double half = x_of(f, hz + 0.5 * step);
        if (half < f->x + f->dx - 0.1) {
            hbk_pad_line(f->pad, half, foot - 0.9 * u, 0.0, 0.9 * u, 0.2 * u);
        }
        hbk_pad_text(f->pad, x, baseline, style, signed_number(f, hz));
    }
    style.align = HBK_RIGHT;
    hbk_pad_text(f->pad, f->x - 3.2 * u, baseline, style, "Hz");
}

/* Takes the place if nothing has it yet. */
static bool take_box(struct frame *f, struct box box)
{
    for (size_t i = 0; i < f->n_boxes; i++) {
        const struct box *const b = &f->boxes[i];
        if (box.x < b->x + b->dx && b->x < box.x + box.dx &&
            box.y < b->y + b->dy && b->y < box.y + box.dy) {
            return false;
        }
    }
    if (f->n_boxes == BOXES_MAX) {
        return false;
    }
    f->boxes[f->n_boxes++] = box;
    return true;
}

/* Whether any curve passes through a box. */
static bool is_crossed(const struct frame *f, struct box box)
{
    for (size_t i = 0; i < f->curves->n; i++) {
        const struct trace *const t = &f->traces[i];
        for (size_t k = 1; k < t->n; k++) {
            const struct hbk_point a = t->points[k - 1];
            const struct hbk_point b = t->points[k];
            if (b.x > box.x && a.x < box.x + box.dx && fmax(a.y, b.y) > box.y &&
                fmin(a.y, b.y) < box.y + box.dy) {
                return true;
            }
        }
    }
    return false;
}

/*
 * The partial over its maximum, or as near above as it is free, with a fine
 * line down to it then.
 */
static void number_maximum(struct frame *f, const struct hbk_curve_maximum *m)
{
    enum { TRIES = 14 };
    static const double aside[] = {0.0, -1.3, 1.3};
    const double u = f->unit;
    struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, 7.5, f->unit, HBK_CENTRE);
    style.face = HBK_FACE_BOLD;
    const char *const number =
        hbk_arena_printf(f->pad->sheet->arena, "%u", m->partial);
    const double width = hbk_pad_width(f->pad, style, number) + 0.5 * u;
    const double height = 0.76 * style.size + 0.5 * u;
    const double x = x_of(f, m->at.hz);
    const double y = y_of(f, m->level_db) - 0.8 * u;
    for (size_t i = 0; i < TRIES * 3; i++) {
        const double rise = 0.8 * u * (double)(i / 3);
        const struct box box = {x + aside[i % 3] * u - 0.5 * width,
                                y - rise - height, width, height};
        if (box.y < f->y + 0.3 * u || box.x + box.dx > f->x + f->dx ||
            is_crossed(f, box) || !take_box(f, box)) {
            continue;
        }
        hbk_pad_text(f->pad, box.x + 0.5 * width, box.y + height - 0.2 * u,
                     style, number);
        if (rise > 1.0 * u) {
            hbk_pad_line(f->pad, x, y, box.x + 0.5 * width - x, -rise,
                         0.12 * u);
        }
        return;
    }
}

static void number_maxima(struct frame *f)
{
    const struct hbk_curve *const curve = &f->curves->curves[0];
    for (size_t k = 0; k < curve->n_maxima; k++) {
        if (curve->maxima[k].partial > 0) {
            number_maximum(f, &curve->maxima[k]);
        }
    }
}

static double end_y(const struct frame *f, size_t i)
{
    const struct trace *const t = &f->traces[i];
    return t->n == 0 ? f->y + f->dy : t->points[t->n - 1].y;
}

static const char *label_of(const struct frame *f, size_t i,
                            char label[HBK_LABEL_SIZE])
{
    return hbk_horn_press_label(f->curves->about.horn,
                                f->curves->curves[i].press, label);
}

/* Names at the ends of the curves, spread so that none meets another. */
static void name_curves(struct frame *f)
{
    const double u = f->unit;
    struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, 8.0, f->unit, HBK_LEFT);
    style.face = HBK_FACE_BOLD;
    const double step = 1.25 * style.size;
    size_t order[HBK_CURVES_MAX];
    double y[HBK_CURVES_MAX];
    const size_t n = f->curves->n;
    for (size_t i = 0; i < n; i++) {
        size_t k = i;
        for (; k > 0 && end_y(f, order[k - 1]) > end_y(f, i); k--) {
            order[k] = order[k - 1];
        }
        order[k] = i;
    }
    for (size_t k = 0; k < n; k++) {
        y[k] = end_y(f, order[k]);
        y[k] = k > 0 ? fmax(y[k], y[k - 1] + step) : y[k];
    }
    double most = f->y + f->dy;
    for (size_t k = n; k-- > 0; most -= step) {
        y[k] = fmin(y[k], most);
        most = y[k];
    }
    const double x = f->x + f->dx;
    for (size_t k = 0; k < n; k++) {
        char label[HBK_LABEL_SIZE];
        const double from = end_y(f, order[k]);
        hbk_pad_line(f->pad, x, from, leader * u, y[k] - from, 0.15 * u);
        draw_sample(f->pad, order[k], x + leader * u, y[k], sample * u, u);
        hbk_pad_text(f->pad, x + (leader + sample + 1.0) * u,
                     y[k] + 0.36 * style.size, style,
                     label_of(f, order[k], label));
    }
}

/* Room at the right for the names of the curves; one needs none. */
static double right_room(const struct frame *f)
{
    struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, 8.0, f->unit, HBK_LEFT);
    style.face = HBK_FACE_BOLD;
    double widest = 0.0;
    for (size_t i = 0; i < f->curves->n; i++) {
        char label[HBK_LABEL_SIZE];
        widest =
            fmax(widest, hbk_pad_width(f->pad, style, label_of(f, i, label)));
    }
    return f->curves->n > 1 ? (leader + sample + 1.0) * f->unit + widest
                            : 4.0 * f->unit;
}

/*
 * "Input impedance against frequency up to 1500 Hz. Open: partial 1 at 80.1
 * Hz, partial 2 at 232.5 Hz."
 */
static const char *said(struct hbk_arena *arena,
                        const struct hbk_curves *curves)
{
    struct hbk_text out = {.arena = arena};
    hbk_text_addf(&out, "Input impedance against frequency up to %.0f Hz.",
                  curves->to_hz);
    for (size_t i = 0; i < curves->n; i++) {
        const struct hbk_curve *curve = &curves->curves[i];
        char label[HBK_LABEL_SIZE];
        size_t told = 0;
        hbk_text_addf(&out, " %s:",
                      curve->press == 0
                          ? "Open"
                          : hbk_horn_press_label(curves->about.horn,
                                                 curve->press, label));
        for (size_t k = 0; k < curve->n_maxima; k++) {
            const struct hbk_curve_maximum *m = &curve->maxima[k];
            if (m->partial > 0) {
                hbk_text_addf(&out, "%s partial %u at %.1f Hz",
                              told++ == 0 ? "" : ",", m->partial, m->at.hz);
            }
        }
        hbk_text_add(&out, told == 0 ? " no partial." : ".");
    }
    return hbk_text_string(&out);
}

void hbk_plot_draw(struct hbk_pad *pad, const struct hbk_plot *plot)
{
    const double u = plot->unit;
    struct frame f = {.pad = pad, .curves = plot->curves, .unit = u};
    f.x = plot->x + left_room * u;
    f.y = plot->y + top_room * u;
    f.dx = plot->width - left_room * u - right_room(&f);
    f.dy = plot->height - (top_room + foot_room) * u;
    set_levels(&f);
    hbk_pad_group(pad);
    hbk_pad_open_figure(pad, said(pad->sheet->arena, plot->curves));
    draw_levels(&f);
    draw_hertz(&f);
    for (size_t i = 0; i < f.curves->n; i++) {
        make_trace(&f, i);
        draw_trace(&f, i);
    }
    if (f.curves->n == 1) {
        number_maxima(&f);
    } else {
        name_curves(&f);
    }
    hbk_pad_frame(pad, f.x, f.y, f.dx, f.dy, 0.3 * u);
    hbk_pad_close(pad, HBK_TAG_FIGURE);
}
