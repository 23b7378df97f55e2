#include "sheet/block/signs.h"

#include <math.h>

/* Of the em. */
static const double leading = 1.42;
static const double ascender = 0.8;
static const double sign_gap = 0.35; /* between a sign and its words */
static const double entry_gap = 1.1; /* between two entries */
static const double arrow_tall = 0.72;

/* A curve: how deep, and how thick in the middle, mm. */
static const double curve_depth = 1.1;
static const double curve_pen = 0.36;
static const double curve_tip = 0.12;

enum hbk_sign hbk_sign_lip(double cents)
{
    if (fabs(cents) < HBK_LIP_TOLD_CENTS) {
        return HBK_SIGN_NONE;
    }
    return cents > 0.0 ? HBK_SIGN_LIP_DOWN : HBK_SIGN_LIP_UP;
}

void hbk_sign_arrow(struct hbk_pad *pad, double x, double y, double height,
                    enum hbk_sign way)
{
    const bool is_up = way == HBK_SIGN_LIP_UP;
    const double tip = is_up ? y - height : y;
    const double foot = is_up ? y : y - height;
    const double up = is_up ? 1.0 : -1.0;
    const double head = 0.42 * height;
    const double half = 0.26 * height;
    const double shaft = fmax(0.06 * height, 0.08);
    const struct hbk_point points[] = {{x, tip},
                                       {x + half, tip + up * head},
                                       {x + shaft, tip + 0.8 * up * head},
                                       {x + shaft, foot},
                                       {x - shaft, foot},
                                       {x - shaft, tip + 0.8 * up * head},
                                       {x - half, tip + up * head}};
    hbk_pad_shape(pad, sizeof(points) / sizeof(points[0]), points);
}

void hbk_sign_curve(struct hbk_pad *pad, double x, double y, double width)
{
    enum { STEPS = 16 };
    struct hbk_point points[2 * (STEPS + 1)];
    for (int i = 0; i <= STEPS; i++) {
        const double t = (double)i / STEPS;
        const double belly = 4.0 * t * (1.0 - t);
        const double half = 0.5 * (curve_tip + (curve_pen - curve_tip) * belly);
        const double at = y + curve_depth * belly;
        points[i] = (struct hbk_point){x + t * width, at - half};
        points[2 * STEPS + 1 - i] =
            (struct hbk_point){x + t * width, at + half};
    }
    hbk_pad_shape(pad, sizeof(points) / sizeof(points[0]), points);
}

static double sign_width(enum hbk_sign sign, double em)
{
    switch (sign) {
    case HBK_SIGN_NONE:
        return 0.0;
    case HBK_SIGN_LIP_UP:
    case HBK_SIGN_LIP_DOWN:
        return 0.5 * em;
    case HBK_SIGN_CROSSING:
        return 1.8 * em;
    }
    return 0.0;
}

static const char *sign_said(enum hbk_sign sign)
{
    return sign == HBK_SIGN_LIP_UP     ? "An arrow up:"
           : sign == HBK_SIGN_LIP_DOWN ? "An arrow down:"
                                       : "A curve between two figures:";
}

/* The sign with the base line of its words at y. */
static void draw_sign(struct hbk_pad *pad, enum hbk_sign sign, double x,
                      double y, double em)
{
    const double middle = x + 0.5 * sign_width(sign, em);
    switch (sign) {
    case HBK_SIGN_NONE:
        return;
    case HBK_SIGN_LIP_UP:
    case HBK_SIGN_LIP_DOWN:
        hbk_sign_arrow(pad, middle, y, arrow_tall * em, sign);
        return;
    case HBK_SIGN_CROSSING:
        hbk_sign_curve(pad, x, y - 0.4 * em, sign_width(sign, em));
        return;
    }
}

/* Measuring and drawing are one walk: with `draws` false nothing is put. */
struct walk {
    struct hbk_pad pad; /* a copy of the caller's, for measuring alone */
    const struct hbk_legend_lines *legend;
    double left, x, y; /* the base line */
    size_t lines;
};

static void next_line(struct walk *walk)
{
    walk->x = walk->left;
    walk->y += leading * walk->legend->style.size;
    walk->lines++;
}

/* One entry; `pad` is NULL where it is only measured. */
static void walk_entry(struct walk *walk, struct hbk_pad *pad,
                       const struct hbk_sign_words *entry)
{
    const struct hbk_style style = walk->legend->style;
    const double em = style.size;
    const double sign = entry->sign == HBK_SIGN_NONE
                            ? 0.0
                            : sign_width(entry->sign, em) + sign_gap * em;
    const double right = walk->left + walk->legend->width;
    const double width = sign + hbk_pad_width(&walk->pad, style, entry->words);
    if (walk->x > walk->left && walk->x + width > right) {
        next_line(walk);
    }
    const struct hbk_lines lines = hbk_pad_wrap(
        &walk->pad, style, right - walk->left - sign, entry->words);
    if (pad != NULL) {
        hbk_pad_group(pad);
        if (entry->sign != HBK_SIGN_NONE) {
            hbk_pad_open_figure(pad, sign_said(entry->sign));
            draw_sign(pad, entry->sign, walk->x, walk->y, em);
            hbk_pad_close(pad, HBK_TAG_FIGURE);
        }
        hbk_pad_block(pad, HBK_TAG_PARAGRAPH, walk->x + sign, walk->y, style,
                      leading * em, &lines);
    }
    for (size_t i = 1; i < lines.n; i++) {
        next_line(walk);
    }
    walk->x = lines.n > 1 ? right : walk->x + width + entry_gap * em;
}

static size_t walk_all(const struct hbk_pad *measure, struct hbk_pad *pad,
                       const struct hbk_legend_lines *legend, double x,
                       double y)
{
    const double em = legend->style.size;
    struct walk walk = {.pad = *measure,
                        .legend = legend,
                        .left = x,
                        .x = x,
                        .y = y + ascender * em,
                        .lines = 1};
    size_t n = 0;
    for (size_t i = 0; i < legend->n; i++) {
        if (legend->entries[i].words[0] != '\0') {
            walk_entry(&walk, pad, &legend->entries[i]);
            n++;
        }
    }
    return n == 0 ? 0 : walk.lines;
}

double hbk_signs_height(const struct hbk_pad *pad,
                        const struct hbk_legend_lines *legend)
{
    const size_t lines = walk_all(pad, NULL, legend, 0.0, 0.0);
    return leading * legend->style.size * (double)lines;
}

void hbk_signs_draw(struct hbk_pad *pad, const struct hbk_legend_lines *legend,
                    double x, double y)
{
    walk_all(pad, pad, legend, x, y);
}
