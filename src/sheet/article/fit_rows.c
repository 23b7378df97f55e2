#include "sheet/article/fit_rows.h"

#include "horn/press.h"
#include "music/pitch.h"
#include "sheet/block/wedge.h"

#include <math.h>

/* Columns in units, from the left; the scale takes what is left. */
static const double press_at = 13.0;
static const double scale_at = 40.0;
static const double right_room = 51.0;
static const double heard_at = 11.0; /* from the end of the scale, */
static const double horn_at = 21.0;  /* right edges of numbers */
static const double played_at = 32.0;
static const double alone_at = 51.0;

static double scale_left(const struct hbk_fit_rows *rows)
{
    return rows->x + (scale_at * rows->unit);
}

static double scale_width(const struct hbk_fit_rows *rows)
{
    return rows->width - ((scale_at + right_room) * rows->unit);
}

static double at_cents(const struct hbk_fit_rows *rows, double cents)
{
    const double held = fmin(fmax(cents, -rows->range), rows->range);
    return scale_left(rows) +
           (scale_width(rows) * 0.5 * (1.0 + (held / rows->range)));
}

/* Steps of the scale: never more than eight of them. */
static double step_of(double range)
{
    return range <= 40.0    ? 10.0
           : range <= 80.0  ? 20.0
           : range <= 160.0 ? 40.0
                            : 100.0;
}

double hbk_fit_rows_range(const struct hbk_fit_report *report)
{
    double most = 0.0;
    for (size_t i = 0; i < report->n; i++) {
        const struct hbk_fit_reading *const item = &report->items[i];
        if (item->state == HBK_FIT_USED) {
            most = fmax(most, fabs(item->reading->cents - item->before_cents));
        }
    }
    const double step = step_of(most);
    return fmin(fmax(step * ceil(most / step), 20.0), 400.0);
}

static void put_cell(struct hbk_pad *pad, enum hbk_tag tag, double x, double y,
                     struct hbk_style style, const char *text)
{
    hbk_pad_open(pad, tag);
    hbk_pad_text(pad, x, y, style, text);
    hbk_pad_close(pad, tag);
}

void hbk_fit_rows_head(struct hbk_pad *pad, const struct hbk_fit_rows *rows,
                       double y)
{
    const double u = rows->unit;
    const struct hbk_style left =
        hbk_style_of(HBK_FACE_PLAIN, 7.0, rows->unit, HBK_LEFT);
    const struct hbk_style right =
        hbk_style_of(HBK_FACE_PLAIN, 7.0, rows->unit, HBK_RIGHT);
    const struct hbk_style centre =
        hbk_style_of(HBK_FACE_PLAIN, 7.0, rows->unit, HBK_CENTRE);
    const double end = scale_left(rows) + scale_width(rows);
    const double base = y + 6.0 * u;
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_ROW);
    put_cell(pad, HBK_TAG_COLUMN, rows->x, base, left, "note");
    put_cell(pad, HBK_TAG_COLUMN, rows->x + press_at * u, base, left,
             "fingering");
    const bool has_player = hbk_fit_has_player(rows->report);
    if (has_player) {
        put_cell(pad, HBK_TAG_COLUMN, end + heard_at * u, base, right, "tuner");
    }
    put_cell(pad, HBK_TAG_COLUMN, end + horn_at * u, base, right, "horn");
    if (has_player) {
        put_cell(pad, HBK_TAG_COLUMN, end + played_at * u, base, right,
                 "played");
    }
    put_cell(pad, HBK_TAG_COLUMN, end + alone_at * u, base, right, "left out");
    hbk_pad_close(pad, HBK_TAG_ROW);
    hbk_pad_open(pad, HBK_TAG_ARTIFACT);
    const double step = step_of(rows->range);
    for (double cents = -rows->range; cents <= rows->range + 0.5;
         cents += step) {
        char text[HBK_CENTS_SIZE];
        hbk_pad_text(pad, at_cents(rows, cents), base, centre,
                     hbk_cents_text(cents, text));
    }
    hbk_pad_text(pad, scale_left(rows) + 0.5 * scale_width(rows), y + 2.6 * u,
                 centre, "cents from what the horn should give");
    hbk_pad_close(pad, HBK_TAG_ARTIFACT);
}

void hbk_fit_rows_grid(struct hbk_pad *pad, const struct hbk_fit_rows *rows,
                       double y, size_t n)
{
    const double height = (double)n * HBK_FIT_ROW_HEIGHT * rows->unit;
    const double step = step_of(rows->range);
    /* Lines and marks may lie over each other: one group. */
    hbk_pad_group(pad);
    for (double cents = -rows->range; cents <= rows->range + 0.5;
         cents += step) {
        const bool is_zero = fabs(cents) < 0.5;
        hbk_pad_add(
            pad, (struct hbk_mark){.kind = HBK_LINE,
                                   .ink = is_zero ? HBK_BLACK : HBK_PALE,
                                   .x = at_cents(rows, cents),
                                   .y = y,
                                   .dy = height,
                                   .pen = (is_zero ? 0.25 : 0.2) * rows->unit});
    }
}

/* A point beyond the scale becomes an arrow at its end. */
static void draw_arrow(struct hbk_pad *pad, const struct hbk_fit_rows *rows,
                       double y, double cents)
{
    const double u = rows->unit;
    const double x = at_cents(rows, cents);
    const double back = cents > 0.0 ? -2.2 * u : 2.2 * u;
    const struct hbk_point points[] = {
        {x, y}, {x + back, y - 1.2 * u}, {x + back, y + 1.2 * u}};
    hbk_pad_shape(pad, 3, points);
}

static void draw_cross(struct hbk_pad *pad, double x, double y, double u)
{
    const double r = 1.1 * u;
    hbk_pad_line(pad, x - r, y - r, 2.0 * r, 2.0 * r, 0.35 * u);
    hbk_pad_line(pad, x - r, y + r, 2.0 * r, -2.0 * r, 0.35 * u);
}

static void draw_points(struct hbk_pad *pad, const struct hbk_fit_rows *rows,
                        double y, const struct hbk_fit_reading *item)
{
    const double u = rows->unit;
    const double was = item->reading->cents - item->before_cents;
    const double is = item->reading->cents - item->after_cents;
    const double was_x = at_cents(rows, was);
    const double is_x = at_cents(rows, is);
    if (item->state == HBK_FIT_USED) {
        hbk_pad_line(pad, was_x, y, is_x - was_x, 0.0, 0.2 * u);
        if (fabs(was) > rows->range) {
            draw_arrow(pad, rows, y, was);
        } else {
            hbk_pad_add(pad, (struct hbk_mark){.kind = HBK_DISC,
                                               .ink = HBK_WHITE,
                                               .x = was_x,
                                               .y = y,
                                               .dx = 1.0 * u});
            hbk_pad_ring(pad, was_x, y, 1.0 * u, 0.3 * u);
        }
        hbk_pad_disc(pad, is_x, y, 1.05 * u);
    } else if (fabs(is) > rows->range) {
        draw_arrow(pad, rows, y, is);
        draw_cross(pad, is_x + (is > 0.0 ? -4.0 * u : 4.0 * u), y, u);
    } else {
        draw_cross(pad, is_x, y, u);
    }
}

static void draw_numbers(struct hbk_pad *pad, const struct hbk_fit_rows *rows,
                         double base, const struct hbk_fit_reading *item)
{
    const double u = rows->unit;
    const double end = scale_left(rows) + scale_width(rows);
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, 8.0, rows->unit, HBK_RIGHT);
    char text[HBK_CENTS_SIZE];
    const bool has_player = hbk_fit_has_player(rows->report);
    if (has_player) {
        put_cell(pad, HBK_TAG_CELL, end + heard_at * u, base, style,
                 item->reading->is_name
                     ? "name"
                     : hbk_cents_text(item->reading->cents, text));
    }
    put_cell(pad, HBK_TAG_CELL, end + horn_at * u, base, style,
             hbk_cents_text(item->horn_cents, text));
    if (has_player) {
        put_cell(pad, HBK_TAG_CELL, end + played_at * u, base, style,
                 hbk_cents_text(item->after_cents, text));
    }
    put_cell(pad, HBK_TAG_CELL, end + alone_at * u, base, style,
             hbk_arena_printf(pad->sheet->arena, "%s \u00b1 %.0f",
                              hbk_cents_text(item->alone_cents, text),
                              item->alone_sd));
}

/* Words in place of a point, with the lines of the scale left out. */
static void draw_far(struct hbk_pad *pad, const struct hbk_fit_rows *rows,
                     double y, double base)
{
    static const char words[] = "no note of this fingering is near: not used";
    const double u = rows->unit;
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, 7.0, rows->unit, HBK_CENTRE);
    const double middle = scale_left(rows) + (0.5 * scale_width(rows));
    const double width = hbk_pad_width(pad, style, words) + (2.0 * u);
    hbk_pad_panel(pad, middle - (0.5 * width), y + (0.3 * u), width,
                  (HBK_FIT_ROW_HEIGHT - 0.6) * u, HBK_WHITE);
    put_cell(pad, HBK_TAG_CELL, middle, base, style, words);
    for (int i = 0; i < (hbk_fit_has_player(rows->report) ? 3 : 1); i++) {
        hbk_pad_open(pad, HBK_TAG_CELL);
        hbk_pad_say(pad, middle, base, "none");
        hbk_pad_close(pad, HBK_TAG_CELL);
    }
}

/* The fingering, with the letter of how the horn was set up. */
static const char *press_text(const struct hbk_pad *pad,
                              const struct hbk_fit_rows *rows, size_t i)
{
    struct hbk_arena *const arena = pad->sheet->arena;
    const struct hbk_fit_setups *const setups = rows->setups;
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(rows->report->horn, rows->report->items[i].press,
                         label);
    return setups->n > 1
               ? hbk_arena_printf(arena, "%s (%s)", label,
                                  hbk_fit_setup_letters(arena, setups->of[i]))
               : hbk_arena_printf(arena, "%s", label);
}

void hbk_fit_rows_draw(struct hbk_pad *pad, const struct hbk_fit_rows *rows,
                       double y, size_t i)
{
    const struct hbk_fit_reading *const item = &rows->report->items[i];
    const double u = rows->unit;
    const double base = y + 3.3 * u;
    const double room = (scale_at - press_at - 2.0) * u;
    char name[HBK_NAME_SIZE];
    const char *const press = press_text(pad, rows, i);
    /* Points lie on the lines of the scale; words touch nothing. */
    const unsigned scale = pad->group;
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_ROW);
    put_cell(pad, HBK_TAG_HEADER, rows->x, base,
             hbk_style_of(HBK_FACE_BOLD, 8.5, rows->unit, HBK_LEFT),
             hbk_note_name(item->written, HBK_UNICODE, name));
    put_cell(pad, HBK_TAG_CELL, rows->x + press_at * u, base,
             hbk_pad_fit(
                 pad, hbk_style_of(HBK_FACE_PLAIN, 8.5, rows->unit, HBK_LEFT),
                 room, 0.6, press),
             press);
    pad->group = scale;
    if (item->state == HBK_FIT_FAR) {
        draw_far(pad, rows, y, base);
    } else {
        draw_points(pad, rows, y + 0.5 * HBK_FIT_ROW_HEIGHT * u, item);
        hbk_pad_group(pad);
        draw_numbers(pad, rows, base, item);
        pad->group = scale;
    }
    hbk_pad_close(pad, HBK_TAG_ROW);
}
