#include "sheet/chart/plate_scale.h"

#include "engrave/staff.h"
#include "sheet/block/said.h"
#include "sheet/chart/gamut.h"
#include "sheet/chart/plate_table.h"
#include "sheet/words/words.h"
#include "sheet/words/words_said.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Sizes of type, points at unit 1. */
static const double name_points = 12.5;
static const double pair_points = 10.2;
static const double stacked_points = 10.0;
static const double figure_points = 13.0;
static const double sounding_points = 8.5;
static const double octave_points = 7.8;

/* At unit 1, mm. */
static const double stacked_step = 3.7;
static const double clef_room = 11.0;

/* Of a system: base lines of names and figures, and the end of the table. */
struct column_lines {
    double name, figure, below;
};

/* What a black note is called, or a white one. */
struct called {
    size_t n;
    char text[2][HBK_NAME_SIZE];
    int octave;
};

static struct called call(const struct hbk_plate *plate, int read)
{
    const enum hbk_naming naming = plate->notes->notation.naming;
    const struct hbk_spelling sharp = hbk_note_sharp(read);
    struct called called = {.n = hbk_note_is_black(read) ? 2 : 1,
                            .octave = sharp.octave};
    hbk_spelling_called(sharp, naming, HBK_UNICODE, called.text[0]);
    hbk_spelling_called(hbk_note_flat(read), naming, HBK_UNICODE,
                        called.text[1]);
    return called;
}

static double octave_width(const struct hbk_plate *plate, int octave)
{
    char text[16];
    (void)snprintf(text, sizeof(text), "%d", octave);
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, octave_points, plate->s, HBK_LEFT);
    return 0.3 * plate->s + hbk_pad_width(&plate->pad, style, text);
}

/* Octaves are numbered at C, and at the first note of the system. */
static void draw_octave(struct hbk_plate *plate, double x, double y, int octave)
{
    char text[16];
    (void)snprintf(text, sizeof(text), "%d", octave);
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, octave_points, plate->s, HBK_LEFT);
    hbk_pad_text(&plate->pad, x + 0.3 * plate->s, y + 0.7 * plate->s, style,
                 text);
}

static void draw_name(struct hbk_plate *plate,
                      const struct hbk_plate_column *column, bool first,
                      double y)
{
    struct hbk_pad *pad = &plate->pad;
    const double s = plate->s;
    const struct called called = call(plate, column->read);
    const double centre = hbk_plate_centre(column);
    const double room = column->width - 0.5 * s;
    struct hbk_style style =
        hbk_style_of(HBK_FACE_BOLD, name_points, s, HBK_CENTRE);
    hbk_pad_group(pad);
    if (called.n == 2 && plate->pairs) {
        const char *both = hbk_arena_printf(pad->sheet->arena, "%s %s",
                                            called.text[0], called.text[1]);
        style.size = HBK_PT(pair_points) * s;
        style = hbk_pad_fit(pad, style, room, 0.7, both);
        hbk_pad_text(pad, centre, y - 0.3 * s, style, both);
        return;
    }
    if (called.n == 2) {
        style.size = HBK_PT(stacked_points) * s;
        for (size_t i = 0; i < 2; i++) {
            const struct hbk_style fit =
                hbk_pad_fit(pad, style, room, 0.6, called.text[i]);
            hbk_pad_text(pad, centre, y - (i == 0 ? stacked_step : 0.0) * s,
                         fit, called.text[i]);
        }
        return;
    }
    style = hbk_pad_fit(pad, style, room, 0.6, called.text[0]);
    const double lift = plate->pairs ? 0.0 : 0.5 * stacked_step * s;
    if (!column->is_c && !first) {
        hbk_pad_text(pad, centre, y - lift, style, called.text[0]);
        return;
    }
    const double wide = hbk_pad_width(pad, style, called.text[0]);
    const double with = wide + octave_width(plate, called.octave);
    style.align = HBK_LEFT;
    hbk_pad_text(pad, centre - 0.5 * with, y - lift, style, called.text[0]);
    draw_octave(plate, centre - 0.5 * with + wide, y - lift, called.octave);
}

static void draw_sounding(struct hbk_plate *plate,
                          const struct hbk_plate_column *column, double y)
{
    struct hbk_style style =
        hbk_style_of(HBK_FACE_ITALIC, sounding_points, plate->s, HBK_CENTRE);
    const char *text =
        hbk_words_sounding(plate->pad.sheet->arena, column->note->written,
                           plate->notes->written_c4_sounds);
    style = hbk_pad_fit(&plate->pad, style, column->width - 0.4 * plate->s, 0.7,
                        text);
    hbk_pad_group(&plate->pad);
    hbk_pad_read_as(&plate->pad,
                    hbk_words_said(plate->pad.sheet->arena,
                                   hbk_arena_printf(plate->pad.sheet->arena,
                                                    "sounds %s", text)));
    hbk_pad_text(&plate->pad, hbk_plate_centre(column), y, style, text);
    hbk_pad_read_as(&plate->pad, NULL);
}

static void draw_figure(struct hbk_plate *plate,
                        const struct hbk_plate_column *column, double y)
{
    struct hbk_pad *pad = &plate->pad;
    const double s = plate->s;
    struct hbk_style style =
        hbk_style_of(HBK_FACE_FIGURE, figure_points, s, HBK_CENTRE);
    const double centre = hbk_plate_centre(column);
    const struct hbk_fingering *first = hbk_plate_other(plate, column, 0);
    const char *text =
        first == NULL ? "\u2013"
                      : hbk_gamut_label(pad->sheet->arena, plate->notes, first);
    style = hbk_plate_fit(pad, style, column->width - 1.0 * s, 0.56, &text);
    hbk_pad_group(pad);
    hbk_pad_text(pad, centre, y, style, text);
    if (column->is_marked) {
        const double half = 0.5 * hbk_pad_width(pad, style, text);
        hbk_pad_line(pad, centre - half, y + 0.9 * s, 2.0 * half, 0.0,
                     0.35 * s);
    }
}

static void draw_staff(struct hbk_plate *plate,
                       const struct hbk_plate_system *system, double top)
{
    struct hbk_pad *pad = &plate->pad;
    const struct hbk_plate_column *last =
        &plate->columns[system->first + system->n - 1];
    const double left = plate->columns[system->first].x - clef_room * plate->s;
    const struct hbk_staff staff = {
        .clef = plate->notes->notation.clef,
        .x = left,
        .bottom = top + (system->staff_above + 4.0) * plate->space,
        .width = last->x + last->width - left,
        .space = plate->space};
    hbk_pad_open_figure(
        pad, hbk_said_staff(
                 pad->sheet->arena, plate->notes,
                 plate->columns[system->first].note->written,
                 plate->columns[system->first + system->n - 1].note->written));
    hbk_staff_lines(pad, &staff);
    hbk_staff_clef(pad, &staff);
    pad->group = 0; /* these touch the lines of the staff */
    for (int end = 0; end < 2; end++) {
        hbk_pad_line(pad, end == 0 ? left : left + staff.width,
                     staff.bottom - 4.0 * plate->space, 0.0, 4.0 * plate->space,
                     0.16 * plate->s);
    }
    for (size_t i = 0; i < system->n; i++) {
        const struct hbk_plate_column *column =
            &plate->columns[system->first + i];
        struct hbk_heads heads = hbk_heads_of(column->read);
        heads.n = plate->pairs ? heads.n : 1;
        hbk_heads_draw(pad, &staff, hbk_plate_centre(column), &heads);
    }
    hbk_pad_close(pad, HBK_TAG_FIGURE);
}

/* A row of the table that is read out: a note with all that is known of it. */
static void draw_column(struct hbk_plate *plate,
                        const struct hbk_plate_column *column,
                        const struct column_lines *at, bool first)
{
    struct hbk_pad *pad = &plate->pad;
    const struct hbk_point here = {hbk_plate_centre(column), at->figure};
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_said_open_name(pad, plate->notes, column->note->written);
    draw_name(plate, column, first, at->name);
    hbk_pad_read_as(pad, NULL);
    if (plate->options->sounding) {
        draw_sounding(plate, column, at->name + 3.6 * plate->s);
    }
    hbk_said_close_name(pad);
    hbk_said_open_fingering(pad, plate->notes,
                            hbk_plate_other(plate, column, 0));
    draw_figure(plate, column, at->figure);
    hbk_said_close_fingering(pad);
    hbk_said_rest(pad, here, plate->notes, column->note,
                  plate->is_every ? column->note->n + 1 : HBK_PLATE_OTHERS_MAX);
    hbk_pad_open(pad, HBK_TAG_ARTIFACT);
    hbk_plate_below_draw(plate, column, at->below);
    hbk_pad_close(pad, HBK_TAG_ARTIFACT);
    hbk_pad_close(pad, HBK_TAG_ROW);
}

double hbk_plate_scale_draw(struct hbk_plate *plate,
                            const struct hbk_plate_system *system, double y)
{
    const double s = plate->s;
    const double names = hbk_plate_names_height(plate);
    const double under = y + names + hbk_plate_staff_height(plate, system);
    const struct column_lines at = {
        .name =
            y + names - 1.2 * s - (plate->options->sounding ? 3.6 * s : 0.0),
        .figure = under + 4.4 * s,
        .below = under + hbk_plate_figure_height(plate) +
                 plate->row_height * (double)plate->n_rows};
    draw_staff(plate, system, y + names + s);
    hbk_pad_open(&plate->pad, HBK_TAG_TABLE);
    hbk_said_heads(&plate->pad,
                   (struct hbk_point){plate->columns[system->first].x, at.name},
                   true);
    for (size_t i = 0; i < system->n; i++) {
        draw_column(plate, &plate->columns[system->first + i], &at, i == 0);
    }
    hbk_pad_close(&plate->pad, HBK_TAG_TABLE);
    return under + hbk_plate_figure_height(plate);
}
