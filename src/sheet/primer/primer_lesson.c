#include "sheet/primer/primer_parts.h"

#include "base/text.h"
#include "horn/about.h"
#include "notes/beside.h"
#include "sheet/primer/primer_music.h"
#include "sheet/primer/primer_notes.h"
#include "sheet/primer/primer_signs.h"
#include "sheet/primer/primer_words.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"

#include <math.h>

/* mm at unit 1. */
static const double cell = 23.0;
static const double column_gap = 5.0;
static const double gap = 2.0;
static const double study_stretch = 4.0;
/* Of the page, what words and long notes beside a diagram need at least. */
static const double least_share = 0.42;

/* Lessons whose studies have all their fingerings. */
enum { IN_FULL = 4 };

/* A lesson while it is laid out. */
struct laid {
    struct hbk_booklet *booklet;
    const struct hbk_lesson *lesson;
    const char *title;
    const char *why;
    const char *explained;          /* its signs */
    struct hbk_booklet_notes notes; /* the diagrams; of width 0 for none */
    struct hbk_booklet_music longs, study;
    double x, width;    /* of words and long notes */
    double head_height; /* of diagram, words and long notes together */
};

/* "Lesson 3: F♯4 and G♯4". */
static const char *title_of(struct hbk_arena *arena,
                            const struct hbk_notes *notes,
                            const struct hbk_lesson *lesson)
{
    static const char *const movements[] = {
        [HBK_LESSON_SLUR] = "slurs on the lips alone",
        [HBK_LESSON_CHORD] = "up and down a chord",
        [HBK_LESSON_MOVE] = "fingers that cross",
        [HBK_LESSON_CALL] = "a call"};
    if (lesson->kind != HBK_LESSON_NOTES) {
        return hbk_arena_printf(arena, "Lesson %zu: %s", lesson->number,
                                movements[lesson->kind]);
    }
    struct hbk_text text = {.arena = arena};
    hbk_text_addf(&text, "Lesson %zu: ", lesson->number);
    for (size_t i = 0; i < lesson->n_new; i++) {
        char name[HBK_NAME_SIZE];
        hbk_spelling_said(
            hbk_notation_spelling(&notes->notation, lesson->added[i].spelling),
            notes->notation.naming, HBK_UNICODE, name);
        hbk_text_addf(&text, "%s%s", i == 0 ? "" : " and ", name);
    }
    return hbk_text_string(&text);
}

/* " On the horn you know it is 1-3." where the hands must unlearn that. */
static const char *known_words(struct hbk_arena *arena,
                               const struct hbk_primer *primer, int written)
{
    const struct hbk_notes *const here = primer->notes;
    const struct hbk_notes *const known = primer->known;
    if (known == NULL || hbk_horn_has_kind(here->horn, HBK_VALVE) !=
                             hbk_horn_has_kind(known->horn, HBK_VALVE)) {
        return "";
    }
    const enum hbk_beside_note becomes = hbk_beside_note(here, known, written);
    const int note = hbk_beside_written(here, known, written);
    return becomes != HBK_BESIDE_OTHER && becomes != HBK_BESIDE_FINGER
               ? ""
               : hbk_arena_printf(arena, " On the horn you know it is %s%s.",
                                  hbk_primer_figure(arena, known, note),
                                  becomes == HBK_BESIDE_FINGER
                                      ? ", with other fingers"
                                      : "");
}

/* Why each note now, what the tuner will show of it. */
static const char *why_of(struct hbk_arena *arena,
                          const struct hbk_primer *primer,
                          const struct hbk_lesson *lesson)
{
    if (lesson->kind != HBK_LESSON_NOTES) {
        return lesson->why;
    }
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < lesson->n_new; i++) {
        const struct hbk_lesson_note *const note = &lesson->added[i];
        hbk_text_addf(&text, "%s%s %s%s", i == 0 ? "" : "\n", note->why,
                      hbk_primer_on_tuner(arena, note->fingering->cents),
                      known_words(arena, primer, note->written));
    }
    return hbk_text_string(&text);
}

/* Every note at first; then the new ones, and each other once. */
static struct hbk_figures figures_of(const struct hbk_lesson *lesson)
{
    struct hbk_figures figures = hbk_figures_all(
        lesson->number <= IN_FULL ? HBK_FIGURED_ALWAYS : HBK_FIGURED_ONCE);
    for (size_t i = 0; i < lesson->n_new; i++) {
        figures.of[lesson->added[i].written] = HBK_FIGURED_ALWAYS;
    }
    return figures;
}

static double words_height(const struct laid *laid)
{
    const struct hbk_style body = hbk_booklet_body(laid->booklet);
    return hbk_pad_paragraph_height(&laid->booklet->article.pad, body,
                                    1.3 * body.size, laid->width, laid->why);
}

/* New notes with their diagram at the left, where they leave enough room. */
static void lay_notes(struct laid *laid)
{
    struct hbk_booklet *const booklet = laid->booklet;
    struct hbk_article *const article = &booklet->article;
    struct hbk_arena *const arena = article->pad.sheet->arena;
    const struct hbk_lesson *const lesson = laid->lesson;
    laid->x = article->x;
    laid->width = article->width;
    if (lesson->n_new == 0) {
        laid->head_height = words_height(laid);
        return;
    }
    int written[HBK_LESSON_NEW_MOST];
    struct hbk_spelling spellings[HBK_LESSON_NEW_MOST];
    for (size_t i = 0; i < lesson->n_new; i++) {
        written[i] = lesson->added[i].written;
        spellings[i] = lesson->added[i].spelling;
    }
    laid->notes = hbk_booklet_notes(booklet, written, lesson->n_new, cell,
                                    article->width);
    const double used = laid->notes.width + hbk_booklet_mm(booklet, column_gap);
    const bool beside = article->width - used >= least_share * article->width;
    laid->x += beside ? used : 0.0;
    laid->width -= beside ? used : 0.0;
    const struct hbk_figures figures = hbk_figures_all(HBK_FIGURED_ALWAYS);
    laid->longs = hbk_booklet_engrave(
        booklet,
        hbk_long_notes(spellings, lesson->n_new,
                       hbk_horn_clef(booklet->primer->notes->horn), arena),
        &figures, laid->x, laid->width);
    const double column =
        words_height(laid) + hbk_booklet_mm(booklet, gap) + laid->longs.height;
    laid->head_height =
        beside ? fmax(laid->notes.height, column)
               : laid->notes.height + hbk_booklet_mm(booklet, gap) + column;
}

static void draw_head(struct laid *laid)
{
    struct hbk_booklet *const booklet = laid->booklet;
    struct hbk_article *const article = &booklet->article;
    double y = article->y;
    if (laid->lesson->n_new > 0) {
        hbk_booklet_notes_draw(booklet, &laid->notes,
                               (struct hbk_point){article->x, y});
        y += laid->x > article->x
                 ? 0.0
                 : laid->notes.height + hbk_booklet_mm(booklet, gap);
    }
    y += hbk_booklet_words_at(booklet, hbk_booklet_body(booklet),
                              (struct hbk_point){laid->x, y}, laid->width,
                              laid->why);
    if (laid->lesson->n_new > 0) {
        (void)hbk_booklet_music_at(booklet, &laid->longs,
                                   y + hbk_booklet_mm(booklet, gap));
    }
    article->y += laid->head_height + hbk_booklet_mm(booklet, gap);
}

/* Everything of a lesson; what it explains counts as explained. */
static struct laid lay_lesson(struct hbk_booklet *booklet,
                              const struct hbk_lesson *lesson)
{
    const struct hbk_article *const article = &booklet->article;
    struct hbk_arena *const arena = article->pad.sheet->arena;
    const struct hbk_notes *const notes = booklet->primer->notes;
    struct laid laid = {.booklet = booklet,
                        .lesson = lesson,
                        .title = title_of(arena, notes, lesson),
                        .why = why_of(arena, booklet->primer, lesson)};
    uint64_t signs = hbk_primer_signs_of(booklet, lesson->study.tune);
    lay_notes(&laid);
    for (size_t i = 0; i < lesson->n_new; i++) {
        signs |= hbk_primer_signs_of(
            booklet, hbk_long_notes(&lesson->added[i].spelling, 1,
                                    hbk_horn_clef(notes->horn), arena));
        signs |=
            hbk_primer_signs_of_diagrams(notes, &lesson->added[i].written, 1);
    }
    signs |= hbk_primer_sign_of_figures(
        lesson->number > IN_FULL ? HBK_BOOKLET_ONCE : HBK_BOOKLET_FULL);
    laid.explained = hbk_primer_explain(booklet, signs);
    const struct hbk_figures figures = figures_of(lesson);
    laid.study = hbk_booklet_engrave(booklet, lesson->study.tune, &figures,
                                     article->x, article->width);
    return laid;
}

/* Below its heading. */
static double lesson_height(const struct laid *laid)
{
    return hbk_booklet_words_height(laid->booklet, laid->explained) +
           laid->head_height + hbk_booklet_mm(laid->booklet, gap) +
           laid->study.height;
}

static void draw_lesson(struct laid *laid)
{
    hbk_booklet_heading(laid->booklet, laid->title, lesson_height(laid));
    hbk_booklet_words(laid->booklet, laid->explained);
    draw_head(laid);
    hbk_article_stretch(&laid->booklet->article,
                        hbk_booklet_mm(laid->booklet, study_stretch));
    hbk_booklet_music(laid->booklet, &laid->study);
}

/* Notes that a player will look for: between others that he has learned. */
static void put_left(struct hbk_booklet *booklet)
{
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_primer *const primer = booklet->primer;
    const struct hbk_lessons *const lessons = primer->lessons;
    const struct hbk_lesson *const last = &lessons->lessons[lessons->n - 1];
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < lessons->n_left; i++) {
        const int written = lessons->left[i].written;
        const struct hbk_note *const note =
            hbk_notes_find(primer->notes, written);
        const bool is_had = note != NULL && note->n > 0;
        if (!is_had && (written < last->low || written > last->high)) {
            continue;
        }
        hbk_text_addf(&text, "%s%s: %s.", text.length == 0 ? "" : " ",
                      hbk_words_read(arena, primer->notes, written),
                      is_had ? lessons->left[i].why
                             : "no fingering of this horn gives it");
    }
    if (text.length > 0) {
        hbk_booklet_heading(booklet, "Left out", hbk_booklet_mm(booklet, 10.0));
        hbk_booklet_words(booklet, hbk_text_string(&text));
    }
}

/* With the first lesson, where that has room on the same page at all. */
static void begin_chapter(const struct laid *first, const char *how)
{
    static const double title_room = 18.0; /* mm at unit 1 */
    struct hbk_booklet *const booklet = first->booklet;
    const struct hbk_article *const article = &booklet->article;
    const double words = hbk_booklet_words_height(booklet, how);
    const double with = words +
                        hbk_booklet_heading_height(booklet, first->title) +
                        lesson_height(first);
    const bool fits = hbk_booklet_mm(booklet, title_room) + with <=
                      article->end - article->top;
    hbk_booklet_chapter(booklet, "Lessons", fits ? with : words);
}

/* The lesson after which all first notes have been taught, from 1. */
static size_t first_taught_by(const struct hbk_lessons *lessons)
{
    size_t number = 1;
    for (size_t i = 0; i < lessons->n; i++) {
        for (size_t k = 0; k < lessons->first.n; k++) {
            if (!hbk_lesson_knows(&lessons->lessons[i],
                                  lessons->first.notes[k])) {
                number = i + 2;
            }
        }
    }
    return number < lessons->n ? number : lessons->n;
}

void hbk_primer_lessons(struct hbk_booklet *booklet)
{
    static const char how[] =
        "Take one lesson a day, or one a week. First hold the new note with "
        "the tuner, then play the study slowly, then at a walking pace. Go on "
        "when it succeeds three times in a row. In the first lessons every "
        "note has the figure of its fingering below it; where that changes, "
        "the page says so.";
    /* Lessons that may come before the long notes find room on a page. */
    enum { AHEAD = 3 };
    const struct hbk_lessons *const lessons = booklet->primer->lessons;
    const size_t taught_by = first_taught_by(lessons);
    bool waits = lessons->first.n > 0;
    for (size_t i = 0; i < lessons->n; i++) {
        const struct hbk_lesson *const lesson = &lessons->lessons[i];
        struct laid laid = lay_lesson(booklet, lesson);
        if (i == 0) {
            begin_chapter(&laid, how);
            hbk_booklet_words(booklet, how);
        }
        draw_lesson(&laid);
        const size_t tune = hbk_primer_tune_of(booklet->primer, lesson->number);
        if (tune < booklet->primer->n_tunes) {
            hbk_primer_tune_draw(booklet, tune);
        }
        if (waits && i + 1 >= taught_by) {
            waits = !hbk_primer_long_notes(
                booklet, i + 1 >= taught_by + AHEAD || i + 1 == lessons->n);
        }
    }
    if (lessons->n > 0) {
        put_left(booklet);
    }
}
