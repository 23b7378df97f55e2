#include "sheet/article/slide_notes.h"

#include "base/text.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "sheet/block/note_name.h"
#include "sheet/block/said.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_said.h"
#include "sheet/words/words_slides.h"

#include <math.h>

/* At unit 1, mm. */
static const double label_room = 16.0;
static const double column_least = 10.8;
static const double column_most = 16.0;
static const double row_height = 5.4;

enum { ROWS = 3 };

static const double strip_height = ROWS * 5.4 + 1.5;
static const double table_gap = 0.8; /* from words to their table */

/* Of the first choice as the slides are set; 0 where there is none. */
static double cents_of(const struct hbk_slides *slides, size_t i)
{
    const struct hbk_note *const note = &slides->notes.notes[i];
    return note->n == 0 ? 0.0 : note->fingerings[0].cents;
}

static bool stays_out(const struct hbk_slides *slides, size_t i)
{
    return fabs(round(cents_of(slides, i))) >= HBK_STAYS_OUT_CENTS;
}

/* The notes that are still off, and the columns they stand in. */
struct grid {
    size_t n;
    const size_t *notes; /* indices of slides->list */
    size_t columns;      /* in a row of the grid */
    double column;
};

static struct grid lay_grid(const struct hbk_slide_card *card)
{
    const struct hbk_slides *const slides = card->slides;
    size_t *const notes =
        HBK_ARENA_ARRAY(card->pad.sheet->arena, size_t, slides->notes.n + 1);
    struct grid grid = {.notes = notes};
    for (size_t i = 0; i < slides->notes.n; i++) {
        if (stays_out(slides, i)) {
            notes[grid.n++] = i;
        }
    }
    const double room = card->width - label_room * card->unit;
    const size_t most =
        (size_t)fmax(1.0, floor(room / (column_least * card->unit)));
    /* Rows of one length where there are several. */
    const size_t strips = grid.n == 0 ? 1 : (grid.n + most - 1) / most;
    grid.columns = grid.n == 0 ? 1 : (grid.n + strips - 1) / strips;
    grid.column = fmin(room / (double)grid.columns, column_most * card->unit);
    return grid;
}

/* "↓38": which way the lip must help, and by how much. */
static const char *lip_text(struct hbk_arena *arena, double cents)
{
    return hbk_arena_printf(arena, "%s%.0f", cents < 0.0 ? "\u2191" : "\u2193",
                            fabs(cents));
}

static void draw_column(struct hbk_slide_card *card, size_t i, double x,
                        double column)
{
    struct hbk_pad *const pad = &card->pad;
    const double u = card->unit;
    const struct hbk_slide_note *const note = &card->slides->list[i];
    const double centre = x + 0.5 * column;
    const double cents = cents_of(card->slides, i);
    struct hbk_style figure =
        hbk_slide_style(card, HBK_FACE_FIGURE, 11.5, HBK_CENTRE);
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(card->slides->horn, note->press, label);
    figure = hbk_pad_fit(pad, figure, column - 0.8 * u, 0.87, label);
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_said_open_name(pad, &card->slides->notes, note->written);
    hbk_note_name_draw(pad, centre, card->y + 3.9 * u,
                       hbk_slide_style(card, HBK_FACE_BOLD, 10.5, HBK_CENTRE),
                       &card->slides->notes.notation, note->written);
    hbk_said_close_name(pad);
    hbk_pad_open(pad, HBK_TAG_CELL);
    hbk_pad_read_as(pad, note->press == 0 ? "open" : NULL);
    hbk_pad_text(pad, centre, card->y + (row_height + 3.9) * u, figure,
                 hbk_pad_cut(pad, figure, column - 0.4 * u, label));
    hbk_pad_read_as(pad, NULL);
    hbk_pad_close(pad, HBK_TAG_CELL);
    hbk_pad_open(pad, HBK_TAG_CELL);
    hbk_pad_read_as(pad, hbk_words_said_cents(pad->sheet->arena, cents));
    hbk_pad_text(pad, centre, card->y + (2.0 * row_height + 3.9) * u,
                 hbk_slide_style(card, HBK_FACE_BOLD, 9.0, HBK_CENTRE),
                 lip_text(pad->sheet->arena, cents));
    hbk_pad_read_as(pad, NULL);
    hbk_pad_close(pad, HBK_TAG_CELL);
    hbk_pad_close(pad, HBK_TAG_ROW);
}

/* Tints, rules and the heads of the rows under n columns. */
static void draw_ground(struct hbk_slide_card *card, const struct grid *grid,
                        size_t first, size_t n)
{
    static const char *const heads[ROWS] = {"note", "fingering", "lip"};
    struct hbk_pad *const pad = &card->pad;
    const double u = card->unit;
    const double left = card->x + label_room * u;
    const double right = left + grid->column * (double)n;
    const double height = ROWS * row_height * u;
    pad->group = 0;
    for (size_t k = 0; k < n; k++) {
        const double x = left + grid->column * (double)k;
        const int written = card->slides->list[grid->notes[first + k]].written;
        if (hbk_note_is_black(
                hbk_notation_note(&card->slides->notes.notation, written))) {
            hbk_pad_panel(pad, x, card->y, grid->column, height, HBK_TINT);
        }
        hbk_pad_line(pad, x, card->y, 0.0, height, HBK_SLIDE_THIN);
    }
    for (int r = 0; r <= ROWS; r++) {
        hbk_pad_line(
            pad, card->x, card->y + row_height * u * r, right - card->x, 0.0,
            r == 0 || r == ROWS ? fmax(HBK_SLIDE_THICK * u, HBK_SLIDE_THIN)
                                : HBK_SLIDE_THIN);
    }
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_ARTIFACT);
    for (int r = 0; r < ROWS; r++) {
        hbk_pad_text(pad, card->x, card->y + (row_height * r + 3.9) * u,
                     hbk_slide_style(card, HBK_FACE_ITALIC, 9.5, HBK_LEFT),
                     heads[r]);
    }
    hbk_pad_close(pad, HBK_TAG_ARTIFACT);
}

static void draw_strip(struct hbk_slide_card *card, const struct grid *grid,
                       size_t first)
{
    const double u = card->unit;
    const size_t left = grid->n - first;
    const size_t n = left < grid->columns ? left : grid->columns;
    hbk_slide_need(card, strip_height * u);
    draw_ground(card, grid, first, n);
    hbk_pad_open(&card->pad, HBK_TAG_TABLE);
    hbk_said_heads(&card->pad, (struct hbk_point){card->x, card->y}, false);
    for (size_t k = 0; k < n; k++) {
        draw_column(card, grid->notes[first + k],
                    card->x + label_room * u + grid->column * (double)k,
                    grid->column);
    }
    hbk_pad_close(&card->pad, HBK_TAG_TABLE);
    card->y += strip_height * u;
}

/* Notes that no fingering gives as the horn is set up. */
static void draw_missing(struct hbk_slide_card *card)
{
    const struct hbk_slides *const slides = card->slides;
    struct hbk_arena *const arena = card->pad.sheet->arena;
    int *const missing = HBK_ARENA_ARRAY(arena, int, slides->notes.n + 1);
    size_t n = 0;
    for (size_t i = 0; i < slides->notes.n; i++) {
        if (slides->list[i].partial == 0) {
            missing[n++] = slides->list[i].written;
        }
    }
    if (n > 0) {
        hbk_slide_paragraph(
            card, hbk_slide_style(card, HBK_FACE_PLAIN, 9.0, HBK_LEFT),
            hbk_arena_printf(
                arena, "Not available: %s.",
                hbk_words_read_runs(arena, &slides->notes, n, missing)));
    }
}

void hbk_slide_notes_draw(struct hbk_slide_card *card)
{
    const double u = card->unit;
    const struct grid grid = lay_grid(card);
    struct hbk_arena *const arena = card->pad.sheet->arena;
    const struct hbk_style style =
        hbk_slide_style(card, HBK_FACE_ITALIC, 10.0, HBK_LEFT);
    if (grid.n == 0) {
        hbk_slide_paragraph(
            card, style,
            hbk_arena_printf(arena,
                             "Every note available is then within %.0f cents.",
                             HBK_STAYS_OUT_CENTS));
    } else {
        const char *const words = hbk_arena_printf(
            arena,
            "%.0f cents off or more: lip it (\u2191\u00A0up, "
            "\u2193\u00A0down, by so many cents) or use an alternate.",
            HBK_STAYS_OUT_CENTS);
        hbk_slide_need(card, hbk_slide_paragraph_height(card, style, words) +
                                 (table_gap + strip_height) * u);
        hbk_slide_paragraph(card, style, words);
        card->y += table_gap * u;
    }
    for (size_t i = 0; i < grid.n; i += grid.columns) {
        draw_strip(card, &grid, i);
    }
    draw_missing(card);
}
