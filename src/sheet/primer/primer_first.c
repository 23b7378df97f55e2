#include "sheet/primer/primer_parts.h"

#include "base/text.h"
#include "horn/about.h"
#include "sheet/primer/primer_music.h"
#include "sheet/primer/primer_notes.h"
#include "sheet/primer/primer_signs.h"
#include "sheet/primer/primer_table.h"
#include "sheet/primer/primer_words.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_signs.h"

static const double cell = 25.0; /* mm at unit 1 */

/* What the tuner shows of each, and what to do. */
static void put_tuning(struct hbk_booklet *booklet)
{
    enum { COLUMNS = 5 };
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_notes *const notes = booklet->primer->notes;
    const struct hbk_first *const first = &booklet->primer->lessons->first;
    const char **const cells =
        HBK_ARENA_ARRAY(arena, const char *, COLUMNS * first->n);
    for (size_t i = 0; i < first->n; i++) {
        const double cents = first->fingerings[i]->cents;
        const char **const row = cells + (i * COLUMNS);
        row[0] = hbk_words_read(arena, notes, first->notes[i]);
        row[1] = hbk_primer_figure(arena, notes, first->notes[i]);
        row[2] = hbk_words_read_sounding(arena, notes, first->notes[i]);
        row[3] = hbk_primer_expect(arena, cents);
        row[4] = hbk_primer_correct(cents);
    }
    const struct hbk_booklet_table table = {
        .n_columns = COLUMNS,
        .heads = {"Note", "Fingering", "The tuner says", "Expect", "Then"},
        .shares = {0.12, 0.15, 0.17, 0.22, 0.34},
        .n_rows = first->n,
        .cells = cells};
    hbk_booklet_table(booklet, &table);
}

/* The figure, and what stands at the left; "" where nothing is pressed. */
static const char *fingers_mean(struct hbk_arena *arena,
                                const struct hbk_cells *cells)
{
    const char *const left =
        cells->left[0] ? "L is the left" : "R is the right";
    return cells->n_hands == 0
               ? ""
               : hbk_arena_printf(
                     arena,
                     "The figure below it names what is pressed; 0 is nothing. "
                     "At the left stand the fingers with the numbers of what "
                     "they work; %s hand%s. ",
                     left, cells->n_hands == 2 ? ", R the right" : "");
}

/* The notes with their diagrams, and what the signs on these mean. */
static void put_diagrams(struct hbk_booklet *booklet)
{
    struct hbk_article *const article = &booklet->article;
    const struct hbk_lessons *const lessons = booklet->primer->lessons;
    const char *const explained = hbk_primer_explain(
        booklet,
        hbk_primer_signs_of_diagrams(&booklet->primer->notes->notation,
                                     lessons->first.notes, lessons->first.n));
    hbk_booklet_words(booklet, explained);
    const struct hbk_booklet_notes notes = hbk_booklet_notes(
        booklet, lessons->first.notes, lessons->first.n, cell, article->width);
    hbk_booklet_room(booklet, notes.height);
    hbk_booklet_notes_draw(booklet, &notes,
                           (struct hbk_point){article->x, article->y});
    article->y += notes.height + hbk_booklet_mm(booklet, 3.0);
    hbk_booklet_words(
        booklet,
        hbk_arena_printf(
            article->pad.sheet->arena,
            "Each note stands on five lines, below its name: the higher it "
            "stands, the higher it sounds. %s%s%s",
            fingers_mean(article->pad.sheet->arena, &notes.strip.cells),
            hbk_words_signs(article->pad.sheet->arena, booklet->primer->notes,
                            false),
            lessons->n > 0
                ? "These notes come one by one in the first lessons; the table "
                  "says what the tuner will show when the tone is steady."
                : ""));
}

static void put_long_notes(struct hbk_booklet *booklet)
{
    struct hbk_article *const article = &booklet->article;
    const struct hbk_first *const first = &booklet->primer->lessons->first;
    const struct hbk_figures figures = hbk_figures_all(HBK_FIGURED_ALWAYS);
    const struct hbk_tune *const longs = hbk_long_notes(
        first->spellings, first->n, hbk_horn_clef(booklet->primer->notes->horn),
        article->pad.sheet->arena);
    const struct hbk_booklet_music music = hbk_booklet_engrave(
        booklet, longs, &figures, article->x, article->width);
    hbk_booklet_heading(booklet, "Long notes with the tuner",
                        hbk_booklet_mm(booklet, 32.0) + music.height);
    hbk_booklet_words(
        booklet, "Breathe in, begin softly, hold the note for four slow beats "
                 "and let it go. Begin with closed eyes; look at the tuner "
                 "when the tone is steady, correct, and hold the note again "
                 "for two beats. Stop before the lips tire.");
    hbk_booklet_words(
        booklet,
        hbk_primer_explain(booklet, hbk_primer_signs_of(booklet, longs)));
    hbk_booklet_music(booklet, &music);
}

void hbk_primer_first(struct hbk_booklet *booklet)
{
    const struct hbk_first *const first = &booklet->primer->lessons->first;
    hbk_booklet_chapter(
        booklet,
        first->n == 0
            ? "Notes to play"
            : hbk_arena_printf(
                  booklet->article.pad.sheet->arena, "The first %s notes",
                  hbk_words_count(booklet->article.pad.sheet->arena, first->n,
                                  false)),
        hbk_booklet_mm(booklet, first->n == 0 ? 20.0 : 85.0));
    hbk_booklet_words(booklet, first->why);
    if (first->n > 0) {
        put_diagrams(booklet);
        put_tuning(booklet);
        put_long_notes(booklet);
    }
}
