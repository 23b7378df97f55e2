#include "sheet/chart/strip_rows.h"

#include "horn/about.h"
#include "horn/press.h"

#include <math.h>
#include <string.h>

/* Letters are never set smaller, points; the staff in mm. */
static const double least_name = 9.0;
static const double least_figure = 10.0;
static const double least_word = 8.0;
static const double least_space = 1.3;

/* A figure is made narrower by so much before it loses its hyphens. */
static const double figure_share = 0.69;

/* White at both sides of names and figures, and of heads, mm at unit 1. */
static const double sides = 1.2;
static const double head_sides = 0.8;

enum { OCTAVE = 13, FEW = 2 };

static int octave_of(const struct hbk_notes *notes,
                     const struct hbk_strip_run *all, size_t i)
{
    const int read = hbk_notation_note(&notes->notation,
                                       notes->notes[all->shown[i]].written);
    return (read + 1200) / 12;
}

/* Rows that a number of notes takes. */
static size_t rows_of(size_t n, size_t most)
{
    return (n + most - 1) / most;
}

/*
 * Whether the row from `first` goes on at `at`, where an octave begins: not
 * where it must be parted and as many rows may begin at C.
 */
static bool goes_on(const struct hbk_notes *notes,
                    const struct hbk_strip_run *all, size_t first, size_t at,
                    size_t most)
{
    size_t next = at;
    while (next < all->n &&
           octave_of(notes, all, next) == octave_of(notes, all, at)) {
        next++;
    }
    const bool few_below =
        first == 0 && at <= FEW &&
        hbk_notation_note(&notes->notation,
                          notes->notes[all->shown[0]].written) %
                12 !=
            0;
    const bool few_above = next == all->n && next - at <= FEW;
    const bool saves_row = rows_of(next - first, most) <
                           rows_of(at - first, most) + rows_of(next - at, most);
    return saves_row && (few_below || few_above || next - first <= OCTAVE);
}

/* Adds a row, in parts that are no longer than `most`. */
static void add_row(struct hbk_strip_run *runs, struct hbk_strip_rows *rows,
                    const size_t *shown, size_t n, size_t most)
{
    const size_t parts = rows_of(n, most);
    for (size_t i = 0; i < parts; i++) {
        const size_t left = parts - i;
        const size_t here = (n + left - 1) / left;
        runs[rows->n++] = (struct hbk_strip_run){here, shown};
        rows->longest = here > rows->longest ? here : rows->longest;
        shown += here;
        n -= here;
    }
}

struct hbk_strip_rows hbk_strip_break(struct hbk_arena *arena,
                                      const struct hbk_notes *notes,
                                      const struct hbk_strip_run *all,
                                      size_t most)
{
    struct hbk_strip_run *runs =
        HBK_ARENA_ARRAY(arena, struct hbk_strip_run, all->n);
    struct hbk_strip_rows rows = {.runs = runs};
    size_t first = 0;
    for (size_t i = 1; i <= all->n; i++) {
        const bool ends = i == all->n || (octave_of(notes, all, i) !=
                                              octave_of(notes, all, i - 1) &&
                                          !goes_on(notes, all, first, i, most));
        if (ends) {
            add_row(runs, &rows, all->shown + first, i - first, most);
            first = i;
        }
    }
    return rows;
}

static double figures_width(const struct hbk_pad *pad,
                            const struct hbk_strip *strip,
                            const struct hbk_strip_run *all, double size)
{
    const struct hbk_style style = {.face = HBK_FACE_FIGURE, .size = size};
    double widest = 0.0;
    for (size_t i = 0; i < all->n; i++) {
        const struct hbk_note *note = &strip->notes->notes[all->shown[i]];
        widest = fmax(
            widest,
            hbk_pad_width(pad, style,
                          hbk_strip_figure(strip, pad->sheet->arena, note)));
    }
    return widest;
}

/* Of sharp and flat: the wider, or both with the white between them. */
static double names_width(const struct hbk_pad *pad,
                          const struct hbk_strip *strip, double size, bool pair)
{
    const struct hbk_style style = {.face = HBK_FACE_BOLD, .size = size};
    const enum hbk_naming naming = strip->notes->notation.naming;
    double widest = 0.0;
    for (int note = HBK_NOTE_C4; note < HBK_NOTE_C4 + 12; note++) {
        if (!hbk_note_is_black(note)) {
            continue;
        }
        char sharp[HBK_NAME_SIZE];
        char flat[HBK_NAME_SIZE];
        hbk_spelling_called(hbk_note_sharp(note), naming, HBK_UNICODE, sharp);
        hbk_spelling_called(hbk_note_flat(note), naming, HBK_UNICODE, flat);
        const double one = hbk_pad_width(pad, style, sharp);
        const double two = hbk_pad_width(pad, style, flat);
        widest = fmax(widest, pair ? one + two + 0.3 * size : fmax(one, two));
    }
    return widest;
}

/* Whether every number has one letter, so that 123 can be read. */
static bool may_join(const struct hbk_horn *horn)
{
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        char label[HBK_LABEL_SIZE];
        hbk_horn_control_label(horn, i, label, sizeof(label));
        if (strlen(label) != 1) {
            return false;
        }
    }
    return hbk_horn_n_controls(horn) > 0;
}

double hbk_strip_narrowest(const struct hbk_pad *pad,
                           const struct hbk_strip *strip,
                           const struct hbk_strip_run *all, double radius)
{
    struct hbk_strip least = *strip;
    least.look.pairs = false;
    least.joined = may_join(strip->notes->horn);
    const double white = sides * strip->look.unit + 0.05;
    double widest = hbk_strip_heads(&least, all) * least_space +
                    head_sides * strip->look.unit;
    widest = fmax(
        widest, white + figures_width(pad, &least, all, HBK_PT(least_figure)));
    widest = fmax(widest,
                  white + names_width(pad, strip, HBK_PT(least_name), false));
    if (strip->cells.n > 0) {
        widest = fmax(widest, hbk_cells_least(&strip->cells, radius).width);
    }
    return widest;
}

/* Whether "slide 20" stands in every cell that needs it. */
static bool slides_fit(const struct hbk_pad *pad, const struct hbk_strip *strip,
                       const struct hbk_strip_run *all, double room)
{
    const struct hbk_style style = {
        .face = HBK_FACE_FIGURE,
        .size = fmin(strip->look.word, HBK_PT(least_word))};
    struct hbk_strip whole = *strip;
    whole.bare = false;
    for (size_t i = 0; i < all->n; i++) {
        const char *slide = hbk_strip_slide(
            &whole, pad->sheet->arena, &strip->notes->notes[all->shown[i]]);
        if (hbk_pad_width(pad, style, slide) > room) {
            return false;
        }
    }
    return true;
}

double hbk_strip_settle(const struct hbk_pad *pad, struct hbk_strip *strip,
                        const struct hbk_strip_run *all)
{
    const double room = strip->look.cell - sides * strip->look.unit;
    strip->look.pairs = true;
    const double beside = strip->look.cell - head_sides * strip->look.unit;
    const double pair = beside / hbk_strip_heads(strip, all);
    strip->look.pairs =
        pair >= least_space &&
        names_width(pad, strip, HBK_PT(least_name), true) <= room;
    strip->joined = false;
    const double share =
        fmax(figure_share, HBK_PT(least_figure) / strip->look.figure);
    strip->joined =
        may_join(strip->notes->horn) &&
        figures_width(pad, strip, all, strip->look.figure) * fmin(1.0, share) >
            room;
    strip->bare = !slides_fit(pad, strip, all, room);
    return beside / hbk_strip_heads(strip, all);
}
