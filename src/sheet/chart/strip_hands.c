#include "sheet/chart/strip_hands.h"

#include "sheet/words/words_said.h"

#include <math.h>

/* Lines, mm at unit 1. */
static const double cell_pen = 0.22;
static const double octave_pen = 0.60;
static const double row_pen = 0.13;

static struct hbk_style style_of(enum hbk_face face, double size,
                                 enum hbk_align align)
{
    return (struct hbk_style){.face = face, .size = size, .align = align};
}

static struct hbk_cells_size size_of(const struct hbk_strip *strip)
{
    return (struct hbk_cells_size){.width = strip->look.cell,
                                   .row = strip->look.row,
                                   .most = strip->look.disc};
}

/* Lines between fingers and notes, which cross those of the staff. */
static void draw_rules(struct hbk_pad *pad, const struct hbk_strip *strip,
                       const struct hbk_strip_run *run,
                       const struct hbk_levels *at, double x, double y)
{
    const struct hbk_strip_look *look = &strip->look;
    const double u = look->unit;
    const double end = hbk_strip_end(strip, run, x);
    const double first = x + look->label;
    const struct hbk_cells_size size = size_of(strip);
    pad->group = HBK_GROUP_STAFF;
    for (size_t i = 0; i < 2; i++) {
        const double half = 0.5 * HBK_STRIP_EDGE_PEN * u;
        hbk_pad_line(pad, x, i == 0 ? y + half : y + at->end - half, end - x,
                     0.0, HBK_STRIP_EDGE_PEN * u);
    }
    for (size_t row = 0; row <= strip->cells.n_rows && at->grid > 0.0; row++) {
        hbk_pad_line(pad, x, y + at->grid + look->row * (double)row, end - x,
                     0.0, fmax(0.12, row_pen * u));
    }
    for (size_t i = 0; i <= run->n; i++) {
        /* The last line keeps within the margin. */
        const double left = first + look->cell * (double)i -
                            (i == run->n ? 0.5 * cell_pen * u : 0.0);
        const bool octave =
            i < run->n &&
            hbk_strip_read(strip, hbk_strip_note(strip, run, i)) % 12 == 0;
        hbk_pad_line(pad, left, y, 0.0, at->end,
                     (octave ? octave_pen : cell_pen) * u);
        if (i < run->n && strip->cells.n_hands == 2) {
            hbk_pad_line(pad, left + hbk_cells_hand(&strip->cells, &size, 1),
                         y + at->grid, 0.0,
                         look->row * (double)strip->cells.n_rows,
                         fmax(0.12, row_pen * u));
        }
    }
}

/* Finger names and numbers at the left; the letters of the hands. */
static void draw_map(struct hbk_pad *pad, const struct hbk_strip *strip,
                     const struct hbk_levels *at, double x, double y)
{
    const struct hbk_strip_look *look = &strip->look;
    const double u = look->unit;
    struct hbk_cells_map map = {
        .style = style_of(HBK_FACE_PLAIN, fmin(look->finger, 0.92 * look->row),
                          HBK_LEFT)};
    map.words = hbk_cells_words(pad, &strip->cells, map.style);
    map.size =
        (struct hbk_cells_size){.width = look->label - map.words - 1.2 * u,
                                .row = look->row,
                                .most = 0.9 * look->disc};
    hbk_pad_open_figure(
        pad, hbk_arena_printf(pad->sheet->arena, "The fingers: %s.",
                              hbk_words_said_controls(pad->sheet->arena,
                                                      strip->notes->horn,
                                                      strip->notes)));
    hbk_cells_letters(pad, &strip->cells, &map.size, x + map.words,
                      y + at->letter,
                      style_of(HBK_FACE_BOLD, look->letter, HBK_CENTRE));
    hbk_cells_map(pad, &strip->cells, &map, x, y + at->grid);
    hbk_pad_close(pad, HBK_TAG_FIGURE);
}

/* A word at the left that names a line of the row. */
static void say_left(struct hbk_pad *pad, double x, double y, double size,
                     const char *word)
{
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_group(pad);
    hbk_pad_text(pad, x, y, style_of(HBK_FACE_ITALIC, size, HBK_LEFT), word);
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
}

void hbk_strip_hands(struct hbk_pad *pad, const struct hbk_strip *strip,
                     const struct hbk_strip_run *run, double x, double y)
{
    const struct hbk_strip_look *look = &strip->look;
    const struct hbk_levels at = hbk_strip_levels(strip, run);
    if (strip->sounding) {
        say_left(pad, x, y + at.sound, look->sound, "sounds");
    }
    if (at.slide > 0.0 && strip->bare) {
        say_left(pad, x, y + at.slide, look->word, "slide, mm");
    }
    if (strip->cells.n_rows > 0) {
        draw_map(pad, strip, &at, x, y);
    }
    draw_rules(pad, strip, run, &at, x, y);
    if (strip->cells.n_rows == 0) {
        return;
    }
    hbk_pad_open_figure(pad, "The hands: a black dot for each finger that "
                             "presses, under the notes of the table above.");
    const struct hbk_cells_size size = size_of(strip);
    for (size_t i = 0; i < run->n; i++) {
        const struct hbk_note *note = hbk_strip_note(strip, run, i);
        const double left = x + look->label + look->cell * (double)i;
        if (note->n == 0) {
            continue; /* rings would say that it is played open */
        }
        if (strip->cells.n_hands > 1) {
            hbk_cells_letters(
                pad, &strip->cells, &size, left, y + at.letter,
                style_of(HBK_FACE_PLAIN, look->letter, HBK_CENTRE));
        }
        hbk_cells_draw(pad, &strip->cells, &size,
                       (struct hbk_point){left, y + at.grid},
                       note->fingerings[0].press, hbk_strip_doubtful(note));
    }
    hbk_pad_close(pad, HBK_TAG_FIGURE);
}
