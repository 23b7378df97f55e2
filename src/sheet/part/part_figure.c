#include "sheet/part/part_figure.h"

#include "engrave/glyph.h"

#include <math.h>
#include <string.h>

/* In staff spaces. The figures' x-height is at least a space (Gould). */
static const double em = 1.9;
static const double least_points = 10.0;
static const double figure_tall = 0.73; /* of the em */
static const double stack_step = 0.87;  /* of the em */
static const double trill_scale = 0.72; /* of the sign above a note */
static const double trill_gap = 0.35;
/* Round what is stacked or drawn as circles: how far out, and how thick. */
static const double bow_gap = 0.3;
static const double bow_bend = 0.55;
static const double bow_pen = 0.17;

/* Where the horn has no such trill, a dash, as on the sheet of trills. */
static const char no_trill[] = "\u2013";

/* The em of figures in staff spaces: no smaller than can be read. */
static double em_of(const struct hbk_fingers *fingers, double scale)
{
    return fmax(em * scale, HBK_PT(least_points) / fingers->space);
}

double hbk_figure_tall(const struct hbk_fingers *fingers)
{
    return figure_tall * em_of(fingers, 1.0);
}

static double step_of(const struct hbk_fingers *fingers)
{
    return stack_step * em_of(fingers, 1.0);
}

/* What is played stands out from what might be. */
static struct hbk_style label_style(const struct hbk_fingers *fingers,
                                    const struct hbk_figure *figure)
{
    return (struct hbk_style){.face = figure->kind == HBK_FIGURE_OTHER
                                          ? HBK_FACE_PLAIN
                                          : HBK_FACE_FIGURE,
                              .size = em_of(fingers, figure->scale),
                              .align = HBK_CENTRE};
}

/* The next part of a label, without the hyphens; false at its end. */
static bool next_part(const char **at, char part[32])
{
    const size_t length = strcspn(*at, "-");
    if (length == 0) {
        return false;
    }
    const size_t kept = length < 31 ? length : 31;
    memcpy(part, *at, kept);
    part[kept] = '\0';
    *at += length;
    *at += **at == '-' ? 1 : 0;
    return true;
}

/* A dash is text in any shape. */
static enum hbk_fingers_shape shape_of(const struct hbk_fingers *fingers,
                                       const struct hbk_figure *figure)
{
    return figure->label == NULL ? HBK_FINGERS_ROW : fingers->shape;
}

/* What a row shows; a choice in its parentheses. */
static const char *row_text(struct hbk_arena *arena,
                            const struct hbk_figure *figure)
{
    return figure->label == NULL ? no_trill
           : figure->kind == HBK_FIGURE_OTHER
               ? hbk_arena_printf(arena, "(%s)", figure->label)
               : figure->label;
}

/* What stands on both sides of a figure: a sign, or parentheses that are drawn.
 */
static double room_left(const struct hbk_fingers *fingers,
                        const struct hbk_figure *figure)
{
    if (figure->kind == HBK_FIGURE_TRILL) {
        return trill_scale * hbk_glyph_box(HBK_GLYPH_TRILL).width + trill_gap;
    }
    return figure->kind == HBK_FIGURE_OTHER &&
                   shape_of(fingers, figure) != HBK_FINGERS_ROW
               ? bow_gap + 0.75 * bow_bend
               : 0.0;
}

static double room_right(const struct hbk_fingers *fingers,
                         const struct hbk_figure *figure)
{
    return figure->kind == HBK_FIGURE_OTHER ? room_left(fingers, figure) : 0.0;
}

static double stack_width(const struct hbk_pad *pad, struct hbk_style style,
                          double space, const char *label)
{
    char part[32];
    double widest = 0.0;
    while (next_part(&label, part)) {
        widest = fmax(widest, hbk_pad_width(pad, style, part) / space);
    }
    return widest;
}

/* Without what stands beside it. */
static double bare_width(const struct hbk_fingers *fingers,
                         const struct hbk_pad *pad, double space,
                         const struct hbk_figure *figure)
{
    struct hbk_style style = label_style(fingers, figure);
    style.size *= space;
    switch (shape_of(fingers, figure)) {
    case HBK_FINGERS_ROW:
        return hbk_pad_width(pad, style, row_text(pad->sheet->arena, figure)) /
               space;
    case HBK_FINGERS_STACK:
        return stack_width(pad, style, space, figure->label);
    case HBK_FINGERS_CELLS:
        return fingers->size.width / fingers->space;
    }
    return 0.0;
}

double hbk_figure_width(const struct hbk_fingers *fingers,
                        const struct hbk_pad *pad, double space,
                        const struct hbk_figure *figure)
{
    return room_left(fingers, figure) +
           bare_width(fingers, pad, space, figure) +
           room_right(fingers, figure);
}

double hbk_figure_height(const struct hbk_fingers *fingers,
                         const struct hbk_figure *figure)
{
    const double tall = hbk_figure_tall(fingers);
    switch (shape_of(fingers, figure)) {
    case HBK_FINGERS_ROW:
        return tall;
    case HBK_FINGERS_STACK: {
        double height = tall - step_of(fingers);
        const char *at = figure->label;
        char part[32];
        while (next_part(&at, part)) {
            height += step_of(fingers);
        }
        return fmax(height, tall);
    }
    case HBK_FINGERS_CELLS:
        return hbk_cells_height(&fingers->cells, &fingers->size) /
               fingers->space;
    }
    return 0.0;
}

const char *hbk_figure_said(struct hbk_arena *arena,
                            const struct hbk_figure *figure)
{
    return figure->label == NULL
               ? "no trill"
               : hbk_arena_printf(arena, "%s%s",
                                  figure->kind == HBK_FIGURE_TRILL ? "trill to "
                                  : figure->kind == HBK_FIGURE_OTHER ? "or "
                                                                     : "",
                                  figure->label);
}

/* Text is read out once for all of its lines. */
static void draw_text(const struct hbk_fingers *fingers,
                      struct hbk_quill *quill, const struct hbk_figure *figure,
                      double x, double top)
{
    const struct hbk_style style = label_style(fingers, figure);
    double y = top - hbk_figure_tall(fingers);
    if (shape_of(fingers, figure) == HBK_FINGERS_ROW) {
        hbk_quill_text(quill, x, y, style,
                       row_text(quill->pad->sheet->arena, figure));
        return;
    }
    const char *at = figure->label;
    char part[32];
    while (next_part(&at, part)) {
        hbk_quill_text(quill, x, y, style, part);
        y -= step_of(fingers);
    }
}

static void draw_cells(const struct hbk_fingers *fingers,
                       struct hbk_quill *quill, const struct hbk_figure *figure,
                       double x, double top)
{
    const double wide = fingers->size.width / fingers->space;
    const double left = x - 0.5 * wide;
    const struct hbk_point at = {quill->x + left * quill->space,
                                 quill->y - top * quill->space};
    const unsigned group = quill->pad->group;
    hbk_cells_draw(quill->pad, &fingers->cells, &fingers->size, at,
                   figure->press, false);
    quill->pad->group = group;
    hbk_quill_fill(quill, left, left + wide,
                   top - hbk_figure_height(fingers, figure), top);
}

/* A parenthesis as tall as what it stands beside, bent by `bend`. */
static void draw_bow(struct hbk_quill *quill, double x, double top,
                     double bottom, double bend)
{
    const double rise = (top - bottom) / 4.0;
    const double inner = bend + (bend < 0.0 ? bow_pen : -bow_pen);
    const struct hbk_point points[8] = {{x, top},
                                        {x + bend, top - rise},
                                        {x + bend, bottom + rise},
                                        {x, bottom},
                                        {x, bottom},
                                        {x + inner, bottom + rise},
                                        {x + inner, top - rise},
                                        {x, top}};
    hbk_quill_band(quill, points);
}

void hbk_figure_draw(const struct hbk_fingers *fingers, struct hbk_quill *quill,
                     const struct hbk_figure *figure, double x, double top)
{
    struct hbk_arena *const arena = quill->pad->sheet->arena;
    const double wide = bare_width(fingers, quill->pad, quill->space, figure);
    const double before = room_left(fingers, figure);
    const double middle = x + 0.5 * (before - room_right(fingers, figure));
    const bool is_text = shape_of(fingers, figure) != HBK_FINGERS_CELLS;
    const char *const said = hbk_figure_said(arena, figure);
    if (is_text && figure->kind != HBK_FIGURE_FIRST) {
        hbk_pad_read_as(quill->pad, said);
    }
    if (figure->kind == HBK_FIGURE_TRILL) {
        hbk_quill_glyph(quill, middle - 0.5 * wide - before,
                        top - hbk_figure_tall(fingers), trill_scale,
                        HBK_GLYPH_TRILL, NULL);
    }
    if (is_text) {
        draw_text(fingers, quill, figure, middle, top);
    } else {
        draw_cells(fingers, quill, figure, middle, top);
    }
    hbk_pad_read_as(quill->pad, NULL);
    if (figure->kind == HBK_FIGURE_OTHER && before > 0.0) {
        const double bottom = top - hbk_figure_height(fingers, figure);
        const double out = 0.5 * wide + bow_gap;
        draw_bow(quill, middle - out, top, bottom, -bow_bend);
        draw_bow(quill, middle + out, top, bottom, bow_bend);
    }
}
