#include "sheet/primer/primer_parts.h"

#include "horn/press.h"
#include "sheet/primer/primer_table.h"
#include "sheet/primer/primer_taught.h"
#include "sheet/primer/primer_tuning.h"

#include <string.h>

enum { COLUMNS = 4, BLANK = 12, LEAST_BLANK = 5 };
static const double row = 8.5; /* mm at unit 1 */

/* The note and its press; the rest is to be written in. */
static void name_row(struct hbk_arena *arena, const struct hbk_notes *notes,
                     int written, uint32_t press, const char *cells[])
{
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(notes->horn, press, label);
    char name[HBK_NAME_SIZE];
    hbk_note_name(written, HBK_UNICODE, name);
    cells[0] = hbk_arena_copy(arena, name, strlen(name));
    cells[1] = hbk_arena_copy(arena, label, strlen(label));
}

/* Whether a row asks for a fingering that no lesson has. */
static bool asks_for_others(const struct hbk_primer *primer)
{
    for (size_t i = 0; i < primer->n_next; i++) {
        const struct hbk_fingering *const usual =
            hbk_primer_taught(primer, primer->next[i].written);
        if (usual != NULL && usual->press != primer->next[i].press) {
            return true;
        }
    }
    return false;
}

/* What the rows are that have a note already. */
static const char *rows_are(const struct hbk_primer *primer)
{
    const bool others = primer->n_next > 0;
    return hbk_primer_asks(primer, primer->notes->tuned.note)
               ? others ? " The first row is the note that the horn is tuned "
                          "on; the notes after it tell most of this horn."
                        : " The first row is the note that the horn is tuned "
                          "on."
           : others ? " The notes that stand there tell most of this horn."
                    : "";
}

/* Rows to write in: what the page still holds, or as many as overleaf. */
static size_t blank_rows(const struct hbk_booklet *booklet, size_t printed)
{
    const struct hbk_article *const article = &booklet->article;
    const double room = article->end - article->y;
    const double rows = room / hbk_booklet_mm(booklet, row);
    const size_t fit = rows < 1.0 ? 0 : (size_t)rows - 1;
    return fit < printed + LEAST_BLANK || fit > printed + BLANK ? BLANK
                                                                : fit - printed;
}

static void put_readings(struct hbk_booklet *booklet)
{
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_primer *const primer = booklet->primer;
    const struct hbk_notes *const notes = primer->notes;
    const size_t n_tuned = hbk_primer_asks(primer, notes->tuned.note) ? 1 : 0;
    const size_t printed = primer->n_next + n_tuned;
    const size_t rows = printed + blank_rows(booklet, printed);
    const char **const cells =
        HBK_ARENA_ARRAY(arena, const char *, COLUMNS *rows);
    for (size_t i = 0; i < COLUMNS * rows; i++) {
        cells[i] = "";
    }
    if (n_tuned > 0) {
        name_row(arena, notes, notes->tuned.note, notes->tuned.press, cells);
    }
    for (size_t i = 0; i < primer->n_next; i++) {
        name_row(arena, notes, primer->next[i].written, primer->next[i].press,
                 cells + ((i + n_tuned) * COLUMNS));
    }
    const struct hbk_booklet_table table = {
        .n_columns = COLUMNS,
        .heads = {"note", "fingering", "cents", "remarks"},
        .shares = {0.2, 0.2, 0.2, 0.4},
        .n_rows = rows,
        .cells = cells,
        .least = row};
    hbk_booklet_table(booklet, &table);
}

void hbk_primer_tuner(struct hbk_booklet *booklet)
{
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_primer *const primer = booklet->primer;
    const struct hbk_notation *const read = &primer->notes->notation;
    const bool is_own = read->shift == 0 && read->naming == HBK_NAMES_ENGLISH;
    if (primer->lessons->n > 0) {
        /* It is handed on alone. */
        hbk_booklet_room(booklet, booklet->article.end - booklet->article.top);
    }
    hbk_booklet_chapter(booklet, "Your tuner\u2019s page",
                        hbk_booklet_mm(booklet, 120.0));
    hbk_booklet_words(
        booklet,
        hbk_arena_printf(
            arena,
            "Once your tone is steady: play for ten minutes to warm the horn, "
            "leave the slides where they are, and write down what the tuner "
            "shows, cents sharp with +, flat with \u2212, without correcting "
            "by the lip. Under a4 goes the pitch that the tuner is set to, "
            "440 as a rule; under slides how far out each is, in mm%s.%s%s%s "
            "Hand the page to whoever printed this booklet: "
            "typed in row by row, it fits the chart to your own horn, and the "
            "next one shows what your notes do.",
            hbk_primer_slide_now(arena, primer->notes), rows_are(primer),
            asks_for_others(primer)
                ? " A fingering there that is not the usual one is meant so."
                : "",
            is_own ? ""
                   : " On this page alone notes are named as the horn itself "
                     "is written, in English."));
    const struct hbk_booklet_table head = {
        .n_columns = 4,
        .heads = {"a4", "temperature", "slides", "date"},
        .shares = {0.2, 0.25, 0.3, 0.25},
        .n_rows = 1,
        .cells = (const char *const[]){"", "", "", ""},
        .least = row};
    hbk_booklet_table(booklet, &head);
    put_readings(booklet);
}
