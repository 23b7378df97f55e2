#include "sheet/primer/primer_parts.h"

#include "base/text.h"
#include "horn/about.h"
#include "sheet/block/signs.h"
#include "sheet/primer/primer_music.h"
#include "sheet/primer/primer_notes.h"
#include "sheet/primer/primer_signs.h"
#include "sheet/primer/primer_table.h"
#include "sheet/primer/primer_tuning.h"
#include "sheet/primer/primer_words.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_signs.h"

#include <math.h>
#include <string.h>

/* mm at unit 1. */
static const double cell = 25.0;
static const double table_line = 8.0;

static const char long_title[] = "Long notes with the tuner";

/* Whether a tuner calls some of the first notes otherwise than they are read.
 */
static bool sounds_otherwise(const struct hbk_booklet *booklet)
{
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_notes *const notes = booklet->primer->notes;
    const struct hbk_first *const first = &booklet->primer->lessons->first;
    bool differs = false;
    for (size_t i = 0; i < first->n; i++) {
        differs |=
            strcmp(hbk_words_read(arena, notes, first->notes[i]),
                   hbk_words_read_sounding(arena, notes, first->notes[i])) != 0;
    }
    return differs;
}

/* What the tuner shows of each, and what to do where lips must help. */
static void put_tuning(struct hbk_booklet *booklet)
{
    enum { MOST = 5 };
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_notes *const notes = booklet->primer->notes;
    const struct hbk_first *const first = &booklet->primer->lessons->first;
    const bool has_sounding = sounds_otherwise(booklet);
    bool has_lip = false;
    for (size_t i = 0; i < first->n; i++) {
        has_lip |= hbk_sign_lip(first->fingerings[i]->cents) != HBK_SIGN_NONE;
    }
    const char **const cells =
        HBK_ARENA_ARRAY(arena, const char *, MOST * first->n);
    size_t n = 0;
    for (size_t i = 0; i < first->n; i++) {
        const double cents = first->fingerings[i]->cents;
        cells[n++] = hbk_words_read(arena, notes, first->notes[i]);
        cells[n++] = hbk_primer_figure(arena, notes, first->notes[i]);
        if (has_sounding) {
            cells[n++] = hbk_words_read_sounding(arena, notes, first->notes[i]);
        }
        cells[n++] = hbk_primer_expect(arena, cents);
        if (has_lip) {
            cells[n++] = hbk_primer_correct(cents);
        }
    }
    struct hbk_booklet_table table = {.n_rows = first->n, .cells = cells};
    static const struct {
        const char *head;
        double share;
    } columns[MOST] = {{"Note", 0.12},
                       {"Fingering", 0.15},
                       {"The tuner says", 0.17},
                       {"Expect", 0.22},
                       {"Then", 0.34}};
    for (size_t c = 0; c < MOST; c++) {
        if ((c == 2 && !has_sounding) || (c == 4 && !has_lip)) {
            continue;
        }
        table.heads[table.n_columns] = columns[c].head;
        table.shares[table.n_columns++] = columns[c].share;
    }
    double sum = 0.0;
    for (size_t c = 0; c < table.n_columns; c++) {
        sum += table.shares[c];
    }
    for (size_t c = 0; c < table.n_columns; c++) {
        table.shares[c] /= sum;
    }
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
        hbk_primer_signs_of_diagrams(booklet->primer->notes,
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
            lessons->n > 0 ? "These notes come in the first lessons." : ""));
    const char *const tuning =
        hbk_primer_tuning(article->pad.sheet->arena, booklet->primer);
    hbk_booklet_heading(booklet, "In tune",
                        hbk_booklet_words_height(booklet, tuning));
    hbk_booklet_words(booklet, tuning);
}

/* Whether the tuner shows something else than that some note is in tune. */
static bool is_any_off(const struct hbk_first *first)
{
    bool is = false;
    for (size_t i = 0; i < first->n; i++) {
        is |= fabs(first->fingerings[i]->cents) >= HBK_PRIMER_IN_TUNE;
    }
    return is;
}

/* The first notes held, with what is said of them. */
struct held {
    const char *words;
    const struct hbk_tune *tune;
    struct hbk_booklet_music music;
    uint64_t signs;
    bool has_table;
    double height;
};

static struct held hold(struct hbk_booklet *booklet)
{
    struct hbk_article *const article = &booklet->article;
    struct hbk_arena *const arena = article->pad.sheet->arena;
    const struct hbk_first *const first = &booklet->primer->lessons->first;
    const struct hbk_figures figures = hbk_figures_all(HBK_FIGURED_ALWAYS);
    struct held held = {.tune = hbk_long_notes(
                            first->spellings, first->n,
                            hbk_horn_clef(booklet->primer->notes->horn), arena),
                        .has_table = is_any_off(first)};
    held.music = hbk_booklet_engrave(booklet, held.tune, &figures, article->x,
                                     article->width);
    held.signs = hbk_primer_signs_of(booklet, held.tune);
    held.words = hbk_arena_printf(
        arena,
        "%sBreathe in, begin softly, hold the note for four slow beats and let "
        "it go. Begin with closed eyes; look at the tuner when the tone is "
        "steady, correct, and hold the note again for two beats. Stop before "
        "the lips tire.%s %s",
        booklet->primer->lessons->n > 0
            ? "You have the first notes; hold them all with the tuner, today "
              "and before every lesson to come. "
            : "",
        held.has_table ? "" : " The tuner should show each of them in tune.",
        hbk_primer_explanation(booklet, held.signs));
    held.height = hbk_booklet_heading_height(booklet, long_title) +
                  hbk_booklet_words_height(booklet, held.words) +
                  held.music.height;
    return held;
}

static void draw_held(struct hbk_booklet *booklet, const struct held *held)
{
    hbk_booklet_heading(booklet, long_title,
                        held->height -
                            hbk_booklet_heading_height(booklet, long_title));
    (void)hbk_primer_explain(booklet, held->signs);
    hbk_booklet_words(booklet, held->words);
    hbk_booklet_music(booklet, &held->music);
    if (held->has_table) {
        put_tuning(booklet);
    }
}

bool hbk_primer_long_notes(struct hbk_booklet *booklet, bool here)
{
    const struct hbk_article *const article = &booklet->article;
    const size_t n_lines = booklet->primer->lessons->first.n + 1;
    const struct held held = hold(booklet);
    const double table =
        held.has_table ? (double)n_lines * hbk_booklet_mm(booklet, table_line)
                       : 0.0;
    const bool fits = article->y + held.height + table <= article->end;
    if (here || fits) {
        draw_held(booklet, &held);
    }
    return here || fits;
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
        if (booklet->primer->lessons->n == 0) {
            (void)hbk_primer_long_notes(booklet, true);
        }
    }
}
