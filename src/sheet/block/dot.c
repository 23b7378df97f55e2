#include "sheet/block/dot.h"

#include "base/pi.h"

#include <math.h>

/* Outlines, mm. */
static const double rim_pen = 0.30;
static const double outer_gap = 0.33; /* of the second ring of a small one */
static const double free_pen = 0.22;
static const double doubt_pen = 0.55;
static const double doubt_share = 0.2; /* of a small dot's radius, at most */
static const double wave_pen = 0.34;

/* The number fills so much of the dot: height of its em over the diameter. */
static const double number_share = 0.80;

static void put_number(struct hbk_pad *pad, const struct hbk_dot *dot,
                       enum hbk_ink ink)
{
    const bool narrow = dot->label[0] != '\0' && dot->label[1] != '\0';
    struct hbk_style style = {.face = narrow ? HBK_FACE_FIGURE : HBK_FACE_BOLD,
                              .size = number_share * 2.0 * dot->radius,
                              .align = HBK_CENTRE,
                              .ink = ink};
    style = hbk_pad_fit(pad, style, 1.6 * dot->radius, 0.4, dot->label);
    /* Figures are 0.714 of their em tall. */
    hbk_pad_text(pad, dot->x, dot->y + 0.357 * style.size, style, dot->label);
}

void hbk_dot_pressed(struct hbk_pad *pad, const struct hbk_dot *dot)
{
    hbk_pad_disc(pad, dot->x, dot->y, dot->radius);
    if (dot->radius >= HBK_DOT_NUMBERED) {
        put_number(pad, dot, HBK_WHITE);
    }
}

static void put_disc(struct hbk_pad *pad, double x, double y, double radius,
                     enum hbk_ink ink)
{
    hbk_pad_add(
        pad, (struct hbk_mark){
                 .kind = HBK_DISC, .ink = ink, .x = x, .y = y, .dx = radius});
}

void hbk_dot_doubtful(struct hbk_pad *pad, const struct hbk_dot *dot)
{
    put_disc(pad, dot->x, dot->y, dot->radius, HBK_WHITE);
    const double pen = fmin(doubt_pen, doubt_share * dot->radius);
    hbk_pad_ring(pad, dot->x, dot->y, dot->radius - 0.5 * pen, pen);
    if (dot->radius >= HBK_DOT_NUMBERED) {
        put_number(pad, dot, HBK_BLACK);
    }
}

void hbk_dot_name(struct hbk_pad *pad, const struct hbk_dot *dot,
                  bool open_at_rest)
{
    put_disc(pad, dot->x, dot->y, dot->radius, HBK_WHITE);
    hbk_pad_ring(pad, dot->x, dot->y, dot->radius - 0.5 * rim_pen, rim_pen);
    if (open_at_rest) {
        hbk_pad_ring(pad, dot->x, dot->y,
                     dot->radius +
                         (dot->radius < 2.0 ? outer_gap : 0.22 * dot->radius),
                     0.5 * rim_pen);
    }
    put_number(pad, dot, HBK_BLACK);
}

void hbk_dot_free(struct hbk_pad *pad, double x, double y, double radius)
{
    hbk_pad_ring(pad, x, y, radius, free_pen);
}

void hbk_dot_cross(struct hbk_pad *pad, double x, double y, double radius)
{
    const double reach = 1.15 * radius;
    const double pen = fmax(0.3, 0.16 * radius);
    hbk_pad_line(pad, x - reach, y - reach, 2.0 * reach, 2.0 * reach, pen);
    hbk_pad_line(pad, x - reach, y + reach, 2.0 * reach, -2.0 * reach, pen);
}

/* Three waves over the dot, as wide as it and a little more. */
static void put_wave(struct hbk_pad *pad, const struct hbk_dot *dot)
{
    enum { STEPS = 36 };
    struct hbk_point points[STEPS + 1];
    const double width = 2.3 * dot->radius;
    const double tall = 0.16 * dot->radius;
    const double middle = dot->y - (1.5 * dot->radius);
    for (int i = 0; i <= STEPS; i++) {
        const double t = (double)i / STEPS;
        points[i].x = dot->x + (t - 0.5) * width;
        points[i].y = middle - tall * sin(6.0 * HBK_PI * t);
    }
    hbk_pad_path(pad, STEPS + 1, points, wave_pen);
}

void hbk_dot_trill(struct hbk_pad *pad, const struct hbk_dot *dot,
                   bool begins_down)
{
    if (begins_down) {
        hbk_pad_disc(pad, dot->x, dot->y, dot->radius);
        put_number(pad, dot, HBK_WHITE);
    } else {
        hbk_dot_name(pad, dot, false);
    }
    put_wave(pad, dot);
}
