#include "sheet/primer/primer_notes.h"

#include "sheet/chart/strip_page.h"
#include "sheet/chart/strip_rows.h"

#include <math.h>

/* Points and mm at unit 1. */
static const double name_points = 17.0;
static const double half_points = 13.0;
static const double figure_points = 19.0;
static const double letter_points = 8.5;
static const double word_points = 9.5;
static const double finger_points = 10.5;
static const double least_points = 8.5;
static const double space = 1.75;
static const double least_space = 1.3;
static const double finger_row = 4.3;
static const double least_row = 3.5;
static const double disc = 2.4;
static const double hand = 6.0;
static const double hand_of_two = 9.0;
static const double clef_spaces = 5.1;

static double points(const struct hbk_booklet *booklet, double at_unit)
{
    return HBK_PT(fmax(at_unit * booklet->article.unit, least_points));
}

static void set_look(struct hbk_booklet *booklet, struct hbk_strip *strip)
{
    struct hbk_strip_look *const look = &strip->look;
    const double u = booklet->article.unit;
    *look = (struct hbk_strip_look){.unit = u,
                                    .air = u,
                                    .name = points(booklet, name_points),
                                    .half = points(booklet, half_points),
                                    .sound = points(booklet, letter_points),
                                    .figure = points(booklet, figure_points),
                                    .letter = points(booklet, letter_points),
                                    .word = points(booklet, word_points),
                                    .finger = points(booklet, finger_points),
                                    .space = fmax(space * u, least_space),
                                    .row = fmax(finger_row * u, least_row),
                                    .disc = disc * u};
    double label = 0.0;
    if (strip->cells.n > 0) {
        const struct hbk_style style = {.face = HBK_FACE_PLAIN,
                                        .size = look->finger};
        label = hbk_cells_words(&booklet->article.pad, &strip->cells, style) +
                1.5 * u;
        for (size_t i = 0; i < strip->cells.n_hands; i++) {
            label += u * (strip->cells.abreast[i] > 1 ? hand_of_two : hand);
        }
    }
    look->label = fmax(label, clef_spaces * look->space + 0.1);
}

struct hbk_booklet_notes hbk_booklet_notes(struct hbk_booklet *booklet,
                                           const int written[], size_t n,
                                           double cell, double width)
{
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_notes *const notes = booklet->primer->notes;
    size_t *const shown = HBK_ARENA_ARRAY(arena, size_t, n);
    for (size_t i = 0; i < n; i++) {
        shown[i] = (size_t)(written[i] - notes->lowest);
    }
    struct hbk_booklet_notes made = {.strip = {.notes = notes},
                                     .run = {n, shown}};
    hbk_cells_arrange(notes->horn,
                      notes->setting.stuck.held_down |
                          notes->setting.stuck.held_up,
                      &made.strip.cells);
    set_look(booklet, &made.strip);
    struct hbk_strip_look *const look = &made.strip.look;
    const double least = hbk_strip_narrowest(&booklet->article.pad, &made.strip,
                                             &made.run, 0.46 * look->row);
    look->cell = fmin(fmax(hbk_booklet_mm(booklet, cell), least),
                      (width - look->label) / (double)n);
    const double heads =
        hbk_strip_settle(&booklet->article.pad, &made.strip, &made.run);
    look->space = fmax(fmin(look->space, heads), least_space);
    made.width = look->label + look->cell * (double)n;
    made.height = hbk_strip_height(&made.strip, &made.run);
    return made;
}

void hbk_booklet_notes_draw(struct hbk_booklet *booklet,
                            const struct hbk_booklet_notes *notes,
                            struct hbk_point at)
{
    const struct hbk_strip_page page = {1, &notes->run, at, 0.0};
    hbk_strip_draw_page(&booklet->article.pad, &notes->strip, &page);
}
