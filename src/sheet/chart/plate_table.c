#include "sheet/chart/plate_table.h"

#include "horn/press.h"
#include "notes/verdict.h"
#include "sheet/block/dot.h"
#include "sheet/block/wedge.h"
#include "sheet/chart/gamut.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"

#include <math.h>
#include <string.h>

/* Rules, mm at unit 1. */
static const double fine_rule = 0.13;
static const double strong_rule = 0.42;
static const double octave_rule = 0.50;

static const double largest_dot = 3.1;
static const double dot_share = 0.44;

/* From line to line below the table, mm at unit 1. */
static const double lip_step = 4.2;

static double left_of(const struct hbk_plate *plate)
{
    return HBK_PLATE_MARGIN * plate->s;
}

static double right_of(const struct hbk_plate *plate,
                       const struct hbk_plate_system *system)
{
    const struct hbk_plate_column *last =
        &plate->columns[system->first + system->n - 1];
    return last->x + last->width;
}

static double table_height(const struct hbk_plate *plate)
{
    return plate->row_height * (double)plate->n_rows;
}

static void grey_line(struct hbk_plate *plate, double x, double y, double dx,
                      double dy)
{
    hbk_pad_add(&plate->pad, (struct hbk_mark){.kind = HBK_LINE,
                                               .ink = HBK_GREY,
                                               .x = x,
                                               .y = y,
                                               .dx = dx,
                                               .dy = dy,
                                               .pen = fine_rule * plate->s});
}

static void draw_rules(struct hbk_plate *plate,
                       const struct hbk_plate_system *system, double y)
{
    const double s = plate->s;
    const double left = left_of(plate);
    const double right = right_of(plate, system);
    const double tall = table_height(plate);
    plate->pad.group = 0;
    for (size_t i = 1; i < plate->n_rows; i++) {
        const double at = y + plate->row_height * (double)i;
        if (!plate->rows[i - 1].ends_group) {
            grey_line(plate, left + 9.0 * s, at, right - left - 9.0 * s, 0.0);
        } else {
            hbk_pad_line(&plate->pad, left, at, right - left, 0.0,
                         strong_rule * s);
        }
    }
    for (size_t i = 0; i <= system->n; i++) {
        const struct hbk_plate_column *column =
            i < system->n ? &plate->columns[system->first + i] : NULL;
        const double x = column == NULL ? right : column->x;
        if ((column != NULL && column->is_c) || i == 0) {
            hbk_pad_line(&plate->pad, x, y, 0.0, tall, octave_rule * s);
        } else {
            grey_line(plate, x, y, 0.0, tall);
        }
    }
    hbk_pad_line(&plate->pad, left, y, right - left, 0.0, strong_rule * s);
    hbk_pad_line(&plate->pad, left, y + tall, right - left, 0.0,
                 strong_rule * s);
}

/* Under the half-tones, from the names down to what follows the table. */
static void draw_tint(struct hbk_plate *plate,
                      const struct hbk_plate_system *system, double top,
                      double bottom)
{
    plate->pad.group = 0;
    for (size_t i = 0; i < system->n; i++) {
        const struct hbk_plate_column *column =
            &plate->columns[system->first + i];
        if (column->is_half) {
            hbk_pad_panel(&plate->pad, column->x, top, column->width,
                          bottom - top, HBK_TINT);
        }
    }
}

/* The brace and the hand, turned, at the left of a group of rows. */
static void draw_hand(struct hbk_plate *plate, size_t first, size_t last,
                      double y)
{
    const double s = plate->s;
    const double top = y + plate->row_height * (double)first;
    const double tall = plate->row_height * (double)(last - first + 1);
    const double x = left_of(plate);
    struct hbk_style style = hbk_style_of(HBK_FACE_CAPS, 10.5, s, HBK_CENTRE);
    const bool is_left = plate->rows[first].is_left;
    const char *words = is_left ? "Left hand" : "Right hand";
    if (hbk_pad_width(&plate->pad, style, words) > tall - 1.0 * s) {
        words = is_left ? "Left" : "Right";
    }
    style =
        hbk_pad_fit(&plate->pad, style, fmax(tall - 0.8 * s, 1.0), 0.72, words);
    if (hbk_pad_width(&plate->pad, style, words) > tall - 0.4 * s) {
        words = is_left ? "L" : "R";
        style = hbk_style_of(HBK_FACE_CAPS, 9.0, s, HBK_CENTRE);
    }
    const bool upright = words[1] == '\0';
    hbk_pad_group(&plate->pad);
    hbk_pad_add(&plate->pad,
                (struct hbk_mark){.kind = HBK_TEXT,
                                  .x = x + (upright ? 2.6 : 4.0) * s,
                                  .y = top + 0.5 * tall +
                                       (upright ? 0.33 * style.size : 0.0),
                                  .face = style.face,
                                  .align = HBK_CENTRE,
                                  .turned = !upright,
                                  .size = style.size,
                                  .text = words});
    /* The brace opens to the rows. */
    enum { STEPS = 16 };
    struct hbk_point points[2 * STEPS + 1];
    const double inset = fmin(0.8 * s, 0.12 * tall);
    for (int i = 0; i <= 2 * STEPS; i++) {
        const double t = (double)i / (2 * STEPS);
        const double far = fmin(t, 1.0 - t) * 2.0;
        const double out = far < 0.2   ? sqrt(far / 0.2) * 0.5
                           : far > 0.8 ? 0.5 + 0.5 * pow((far - 0.8) / 0.2, 2)
                                       : 0.5;
        points[i].x = x + (7.4 - 1.6 * out) * s;
        points[i].y = top + inset + t * (tall - 2.0 * inset);
    }
    hbk_pad_path(&plate->pad, 2 * STEPS + 1, points, 0.18 * s);
}

/* What a player must know of a control before anything else. */
static const char *rest_words(const struct hbk_notes *notes, size_t control)
{
    const char *stuck = hbk_words_stuck(notes, control);
    return stuck[0] != '\0'                             ? stuck
           : notes->horn->controls[control].stands_open ? "open at rest"
           : notes->horn->controls[control].rests_in    ? "raises"
                                                        : "";
}

/* The same in a word. */
static const char *short_rest_words(const struct hbk_notes *notes,
                                    size_t control)
{
    return hbk_notes_stuck(notes, control)              ? "stuck"
           : notes->horn->controls[control].stands_open ? "open"
                                                        : "raises";
}

/* Finger, what is to know of it, key name and number of one row. */
static void draw_label(struct hbk_plate *plate, size_t row, double y)
{
    struct hbk_pad *pad = &plate->pad;
    const struct hbk_notes *notes = plate->notes;
    const size_t i = plate->rows[row].control;
    const struct hbk_control *control = &notes->horn->controls[i];
    const double s = plate->s;
    const double x = left_of(plate) + 9.0 * s;
    const double edge = left_of(plate) + plate->label;
    const double radius = fmax(1.62, fmin(2.9 * s, 0.40 * plate->row_height));
    const double ring = edge - 4.6 * s;
    const double name_room = plate->label > 40.0 * s ? 7.5 * s : 0.0;
    const double room = ring - 1.3 * radius - name_room - x - 0.8 * s;
    struct hbk_style style = hbk_style_of(HBK_FACE_ITALIC, 10.5, s, HBK_LEFT);
    style.size = fmin(style.size, 0.95 * plate->row_height);
    const char *words = hbk_instrument_fingers(pad->sheet->arena, control);
    const char *rest = rest_words(notes, i);
    const bool two_lines = rest[0] != '\0' && plate->row_height >= 6.4 * s;
    if (rest[0] != '\0' && !two_lines) {
        words = hbk_arena_printf(pad->sheet->arena, "%s, %s", words,
                                 short_rest_words(notes, i));
    }
    style = hbk_pad_fit(pad, style, room, HBK_PT(7.2) / style.size, words);
    hbk_pad_group(pad);
    hbk_pad_text(pad, x, y + (two_lines ? -0.5 : 1.2) * s, style, words);
    if (two_lines) {
        struct hbk_style small =
            hbk_style_of(HBK_FACE_ITALIC, 8.5, s, HBK_LEFT);
        small = hbk_pad_fit(pad, small, room, 0.7, rest);
        hbk_pad_text(pad, x, y + 2.7 * s, small, rest);
    }
    if (name_room > 0.0 && control->called != NULL) {
        struct hbk_style name =
            hbk_style_of(HBK_FACE_PLAIN, 10.0, s, HBK_CENTRE);
        name.size = fmin(name.size, 0.95 * plate->row_height);
        const char *called = hbk_words_key_short(pad->sheet->arena, notes, i);
        name =
            hbk_pad_fit(pad, name, name_room, HBK_PT(7.2) / name.size, called);
        hbk_pad_group(pad);
        hbk_pad_text(pad, ring - 1.3 * radius - 0.5 * name_room, y + 1.2 * s,
                     name, called);
    }
    char label[HBK_LABEL_SIZE];
    const struct hbk_dot dot = {
        ring, y, radius,
        hbk_horn_control_label(notes->horn, i, label, sizeof(label))};
    hbk_pad_group(pad);
    hbk_dot_name(pad, &dot, control->stands_open);
    if (hbk_notes_stuck(notes, i)) {
        hbk_dot_cross(pad, ring, y, radius);
    }
}

static void draw_labels(struct hbk_plate *plate,
                        const struct hbk_plate_system *system, double y)
{
    size_t first = 0;
    for (size_t row = 0; row < plate->n_rows; row++) {
        const double middle = y + plate->row_height * ((double)row + 0.5);
        draw_label(plate, row, middle);
        char label[HBK_LABEL_SIZE];
        const struct hbk_style style = hbk_style_of(
            HBK_FACE_BOLD, fmin(10.0, 2.4 * plate->row_height / plate->s),
            plate->s, HBK_CENTRE);
        hbk_pad_group(&plate->pad);
        hbk_pad_text(&plate->pad, right_of(plate, system) + 3.0 * plate->s,
                     middle + 0.36 * style.size, style,
                     hbk_horn_control_label(plate->notes->horn,
                                            plate->rows[row].control, label,
                                            sizeof(label)));
        if (plate->rows[row].ends_group) {
            draw_hand(plate, first, row, y);
            first = row + 1;
        }
    }
}

static void draw_dots(struct hbk_plate *plate,
                      const struct hbk_plate_column *column, double y)
{
    const struct hbk_notes *notes = plate->notes;
    const struct hbk_fingering *first = hbk_plate_other(plate, column, 0);
    const double radius =
        fmin(largest_dot * plate->s,
             dot_share * fmin(plate->row_height, plate->unit_width));
    for (size_t row = 0; row < plate->n_rows; row++) {
        const size_t i = plate->rows[row].control;
        char label[HBK_LABEL_SIZE];
        const struct hbk_dot dot = {
            hbk_plate_centre(column),
            y + plate->row_height * ((double)row + 0.5), radius,
            hbk_horn_control_label(notes->horn, i, label, sizeof(label))};
        hbk_pad_group(&plate->pad);
        if (hbk_notes_stuck(notes, i)) {
            hbk_dot_cross(&plate->pad, dot.x, dot.y, 0.32 * radius);
        } else if (first == NULL || (first->press >> i & 1u) == 0) {
            continue;
        } else if ((first->verdict & HBK_VERDICT_UNRELIABLE) != 0) {
            hbk_dot_doubtful(&plate->pad, &dot);
        } else {
            hbk_dot_pressed(&plate->pad, &dot);
        }
    }
}

/* "↑ 14": which way the lip must help, and by how much. */
static const char *lip_text(struct hbk_arena *arena, double cents)
{
    return hbk_lip_needed(cents) == 0
               ? ""
               : hbk_arena_printf(arena, "%s%.0f",
                                  cents < 0.0 ? "\u2191" : "\u2193",
                                  fabs(cents));
}

static void draw_lip(struct hbk_plate *plate,
                     const struct hbk_plate_column *column, double y)
{
    const struct hbk_fingering *first = hbk_plate_other(plate, column, 0);
    char cents[HBK_CENTS_SIZE];
    const char *text = first == NULL ? ""
                       : plate->is_every
                           ? hbk_cents_text(first->cents, cents)
                           : lip_text(plate->pad.sheet->arena, first->cents);
    struct hbk_style style =
        hbk_style_of(plate->is_every ? HBK_FACE_FIGURE : HBK_FACE_BOLD, 9.2,
                     plate->s, HBK_CENTRE);
    style = hbk_pad_fit(&plate->pad, style, column->width - 0.9 * plate->s,
                        0.77, text);
    hbk_pad_group(&plate->pad);
    hbk_pad_text(&plate->pad, hbk_plate_centre(column), y, style, text);
}

static void draw_throw(struct hbk_plate *plate,
                       const struct hbk_plate_column *column, double y)
{
    const struct hbk_fingering *first = hbk_plate_other(plate, column, 0);
    if (first == NULL || first->drawn_m <= 0.0) {
        return;
    }
    struct hbk_style style =
        hbk_style_of(HBK_FACE_BOLD, 9.0, plate->s, HBK_CENTRE);
    const char *text =
        hbk_arena_printf(plate->pad.sheet->arena, "%.0f", first->drawn_m * 1e3);
    hbk_pad_group(&plate->pad);
    hbk_pad_text(&plate->pad, hbk_plate_centre(column), y, style, text);
}

/* "3-4", or "3-4+" where the second key vents. */
static const char *other_label(struct hbk_arena *arena,
                               const struct hbk_notes *notes,
                               const struct hbk_fingering *other)
{
    const char *label = hbk_gamut_label(arena, notes, other);
    return other->use == HBK_USE_VENTS ? hbk_arena_printf(arena, "%s+", label)
                                       : label;
}

/* Another fingering: its number, and the lip where that must help. */
static void draw_other(struct hbk_plate *plate,
                       const struct hbk_plate_column *column, size_t k,
                       double y)
{
    struct hbk_pad *pad = &plate->pad;
    const double s = plate->s;
    const struct hbk_fingering *other = hbk_plate_other(plate, column, k);
    if (other == NULL) {
        return;
    }
    const double room = column->width - 1.0 * s;
    struct hbk_style figure = hbk_style_of(HBK_FACE_FIGURE, 9.4, s, HBK_LEFT);
    struct hbk_style small = hbk_style_of(HBK_FACE_PLAIN, 7.8, s, HBK_LEFT);
    const char *label = other_label(pad->sheet->arena, plate->notes, other);
    const char *lip = lip_text(pad->sheet->arena, other->cents);
    double after = hbk_pad_width(pad, small, lip);
    double gap = lip[0] != '\0' ? 0.5 * s : 0.0;
    if (hbk_pad_width(pad, figure, label) + gap + after > room &&
        lip[0] != '\0') {
        lip = other->cents < 0.0 ? "\u2191" : "\u2193";
        after = hbk_pad_width(pad, small, lip);
        gap = 0.2 * s;
    }
    figure = hbk_plate_fit(pad, figure, room - gap - after, 0.75, &label);
    if (hbk_pad_width(pad, figure, label) + gap + after > room + 0.01) {
        return; /* the wall has it */
    }
    const double wide = hbk_pad_width(pad, figure, label);
    const double x = hbk_plate_centre(column) - 0.5 * (wide + gap + after);
    hbk_pad_group(pad);
    hbk_pad_text(pad, x, y, figure, label);
    hbk_pad_text(pad, x + wide + gap, y, small, lip);
}

/* Where a label of several controls is best broken: after a hyphen. */
static size_t hyphen_near_middle(const char *label)
{
    const size_t length = strlen(label);
    size_t best = length;
    for (size_t i = 1; i < length; i++) {
        const size_t off = i > length / 2 ? i - length / 2 : length / 2 - i;
        const size_t now =
            best > length / 2 ? best - length / 2 : length / 2 - best;
        if (label[i - 1] == '-' && off < now) {
            best = i;
        }
    }
    return best;
}

/* The same with its cents below, in brackets where it is unreliable. */
static void draw_with_cents(struct hbk_plate *plate,
                            const struct hbk_plate_column *column, size_t k,
                            double y)
{
    struct hbk_pad *pad = &plate->pad;
    const double s = plate->s;
    const struct hbk_fingering *other = hbk_plate_other(plate, column, k);
    if (other == NULL) {
        return;
    }
    const bool doubtful = (other->verdict & HBK_VERDICT_UNRELIABLE) != 0;
    const double room = column->width - 1.0 * s;
    const double x = hbk_plate_centre(column);
    struct hbk_style figure = hbk_style_of(HBK_FACE_FIGURE, 9.4, s, HBK_CENTRE);
    const char *label = other_label(pad->sheet->arena, plate->notes, other);
    if (doubtful) {
        label = hbk_arena_printf(pad->sheet->arena, "(%s)", label);
    }
    const char *const whole = label;
    figure = hbk_plate_fit(pad, figure, room, 0.75, &label);
    char cents[HBK_CENTS_SIZE];
    hbk_pad_group(pad);
    if (hbk_pad_width(pad, figure, label) <= room + 0.01) {
        hbk_pad_text(pad, x, y - 2.7 * s, figure, label);
    } else {
        const size_t half = hyphen_near_middle(whole);
        hbk_pad_text(pad, x, y - 4.6 * s, figure,
                     hbk_arena_copy(pad->sheet->arena, whole, half));
        hbk_pad_text(pad, x, y - 2.6 * s, figure, whole + half);
    }
    hbk_pad_text(pad, x, y, hbk_style_of(HBK_FACE_PLAIN, 7.8, s, HBK_CENTRE),
                 hbk_cents_text(other->cents, cents));
}

static void draw_row_name(struct hbk_plate *plate, double y, const char *name)
{
    const double s = plate->s;
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_ITALIC, 9.5, s, HBK_RIGHT);
    hbk_pad_group(&plate->pad);
    hbk_pad_text(&plate->pad, left_of(plate) + plate->label - 2.0 * s, y, style,
                 name);
}

double hbk_plate_table_draw(struct hbk_plate *plate,
                            const struct hbk_plate_system *system, double y)
{
    const double s = plate->s;
    const double bottom =
        y + table_height(plate) + hbk_plate_below_height(plate);
    const double top = y - hbk_plate_figure_height(plate) -
                       hbk_plate_staff_height(plate, system) -
                       hbk_plate_names_height(plate);
    draw_tint(plate, system, top, bottom);
    if (plate->n_rows > 0) {
        draw_rules(plate, system, y);
        draw_labels(plate, system, y);
    }
    for (size_t i = 0; i < system->n; i++) {
        draw_dots(plate, &plate->columns[system->first + i], y);
    }
    double line = y + table_height(plate) - 0.4 * s;
    const char *const names[] = {plate->has_slide ? "slide out, mm" : NULL,
                                 !plate->has_lip   ? NULL
                                 : plate->is_every ? "cents"
                                                   : "lip",
                                 plate->others > 0 ? "or" : NULL};
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        if (names[i] != NULL) {
            line += (i < 2 ? lip_step : 3.7) * s;
            draw_row_name(plate, line, names[i]);
        }
    }
    return bottom;
}

void hbk_plate_below_draw(struct hbk_plate *plate,
                          const struct hbk_plate_column *column, double y)
{
    const double s = plate->s;
    double line = y - 0.4 * s;
    if (plate->has_slide) {
        line += lip_step * s;
        draw_throw(plate, column, line);
    }
    if (plate->has_lip) {
        line += lip_step * s;
        draw_lip(plate, column, line);
    }
    for (size_t k = 1; k <= plate->others; k++) {
        line += hbk_plate_other_step(plate) * s;
        if (plate->is_every) {
            draw_with_cents(plate, column, k, line);
        } else {
            draw_other(plate, column, k, line);
        }
    }
}
