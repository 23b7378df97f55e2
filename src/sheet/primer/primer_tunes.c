#include "sheet/primer/primer_parts.h"

#include "sheet/primer/primer_music.h"
#include "sheet/primer/primer_signs.h"

#include <string.h>

/* Of all tunes so many hundredths have all fingerings, so many some. */
enum { FULL_SHARE = 34, SOME_SHARE = 67 };

size_t hbk_primer_tune_of(const struct hbk_primer *primer, size_t lesson)
{
    size_t i = 0;
    while (i < primer->n_tunes && primer->tunes[i].after != lesson) {
        i++;
    }
    return i;
}

/* In full at first, then at the notes of its own lesson, then none. */
static enum hbk_booklet_figured figured(const struct hbk_primer *primer,
                                        size_t n_printed)
{
    const size_t share = 100 * n_printed / primer->n_tunes;
    return share < FULL_SHARE   ? HBK_BOOKLET_FULL
           : share < SOME_SHARE ? HBK_BOOKLET_NEW
                                : HBK_BOOKLET_NONE;
}

/* Whether a tune has some new note of its lesson. */
static bool has_new(const struct hbk_primer *primer, size_t number)
{
    const struct hbk_primer_tune *const tune = &primer->tunes[number];
    const struct hbk_lessons *const lessons = primer->lessons;
    bool has = false;
    if (tune->after == 0 || tune->after > lessons->n) {
        return false;
    }
    const struct hbk_lesson *const lesson = &lessons->lessons[tune->after - 1];
    for (size_t e = 0; e < tune->tune->n_events; e++) {
        const struct hbk_tune_event *const event = &tune->tune->events[e];
        for (size_t k = 0; k < lesson->n_new; k++) {
            has |= event->kind != HBK_TUNE_REST &&
                   event->note == lesson->added[k].written;
        }
    }
    return has;
}

/*
 * The rule that is said at a tune: that figures stand under new notes only
 * where they do, else at once that there are none.
 */
static uint64_t rule_of(const struct hbk_booklet *booklet, size_t number)
{
    const struct hbk_primer *const primer = booklet->primer;
    const enum hbk_booklet_figured how = figured(primer, booklet->n_figured);
    return how == HBK_BOOKLET_NEW && !has_new(primer, number)
               ? hbk_primer_sign_of_figures(HBK_BOOKLET_BARE)
               : hbk_primer_sign_of_figures(how);
}

static struct hbk_figures figures_of(const struct hbk_booklet *booklet,
                                     const struct hbk_primer_tune *tune,
                                     enum hbk_booklet_figured how)
{
    const struct hbk_lessons *const lessons = booklet->primer->lessons;
    struct hbk_figures figures = hbk_figures_all(
        how == HBK_BOOKLET_FULL ? HBK_FIGURED_ALWAYS : HBK_FIGURED_NEVER);
    if (how != HBK_BOOKLET_NEW || tune->after == 0 ||
        tune->after > lessons->n) {
        return figures;
    }
    const struct hbk_lesson *const lesson = &lessons->lessons[tune->after - 1];
    for (size_t i = 0; i < lesson->n_new; i++) {
        figures.of[lesson->added[i].written] = HBK_FIGURED_ALWAYS;
    }
    return figures;
}

/* A tune that waits for its place. */
struct laid {
    size_t number;
    const char *title;
    uint64_t signs;
    const char *words; /* that explain its signs */
    struct hbk_booklet_music music;
};

static struct laid lay(struct hbk_booklet *booklet, size_t number)
{
    const struct hbk_article *const article = &booklet->article;
    struct hbk_arena *const arena = article->pad.sheet->arena;
    const struct hbk_primer_tune *const tune = &booklet->primer->tunes[number];
    const enum hbk_booklet_figured how =
        figured(booklet->primer, booklet->n_figured);
    const struct hbk_figures figures = figures_of(booklet, tune, how);
    const char *const composer = tune->tune->composer;
    struct laid laid = {
        .number = number,
        .title = composer[0] == '\0'
                     ? tune->tune->title
                     : hbk_arena_printf(arena, "%s (%s)", tune->tune->title,
                                        composer),
        .signs =
            hbk_primer_signs_of(booklet, tune->tune) | rule_of(booklet, number),
        .music = hbk_booklet_engrave(booklet, tune->tune, &figures, article->x,
                                     article->width)};
    laid.words = hbk_primer_explanation(booklet, laid.signs);
    return laid;
}

/* What stands above its first line. */
static double head_height(const struct hbk_booklet *booklet,
                          const struct laid *laid)
{
    return hbk_booklet_heading_height(booklet, laid->title) +
           hbk_booklet_words_height(booklet, laid->words);
}

/* What must stand on one page, with its heading. */
static double kept_height(const struct hbk_booklet *booklet,
                          const struct laid *laid)
{
    const double head = head_height(booklet, laid);
    return head + hbk_booklet_music_kept(booklet, &laid->music, head);
}

static void draw(struct hbk_booklet *booklet, const struct laid *laid)
{
    hbk_booklet_heading(booklet, laid->title,
                        kept_height(booklet, laid) -
                            hbk_booklet_heading_height(booklet, laid->title));
    hbk_booklet_words(booklet, hbk_primer_explain(booklet, laid->signs));
    hbk_booklet_music(booklet, &laid->music);
    booklet->n_figured++;
}

void hbk_primer_tune_draw(struct hbk_booklet *booklet, size_t number)
{
    const struct laid laid = lay(booklet, number);
    draw(booklet, &laid);
}

/* Tunes that no lesson has, in their order. */
static size_t tunes_left(const struct hbk_primer *primer, size_t left[])
{
    size_t n = 0;
    for (size_t i = 0; i < primer->n_tunes; i++) {
        const size_t after = primer->tunes[i].after;
        const bool stands_in_lesson = after > 0 &&
                                      after <= primer->lessons->n &&
                                      hbk_primer_tune_of(primer, after) == i;
        if (!stands_in_lesson) {
            left[n++] = i;
        }
    }
    return n;
}

/* The next tune; one of the two after it, where only that has room here. */
static size_t next_tune(struct hbk_booklet *booklet, const size_t left[],
                        size_t n, struct laid *laid)
{
    enum { AHEAD = 3 };
    const struct hbk_article *const article = &booklet->article;
    for (size_t i = 0; i < n && i < AHEAD; i++) {
        *laid = lay(booklet, left[i]);
        if (article->y + kept_height(booklet, laid) <= article->end) {
            return i;
        }
    }
    *laid = lay(booklet, left[0]);
    return 0;
}

void hbk_primer_tunes(struct hbk_booklet *booklet)
{
    static const char how[] = "More tunes of the notes you have by now, easier "
                              "ones first. Sing each before you play it.";
    const struct hbk_primer *const primer = booklet->primer;
    size_t *const left = HBK_ARENA_ARRAY(booklet->article.pad.sheet->arena,
                                         size_t, primer->n_tunes + 1);
    size_t n = tunes_left(primer, left);
    if (n == 0) {
        return;
    }
    struct laid laid = lay(booklet, left[0]);
    hbk_booklet_chapter(booklet, "Tunes",
                        hbk_booklet_words_height(booklet, how) +
                            head_height(booklet, &laid) + laid.music.height);
    hbk_booklet_words(booklet, how);
    while (n > 0) {
        const size_t at = next_tune(booklet, left, n, &laid);
        draw(booklet, &laid);
        memmove(left + at, left + at + 1, (n - at - 1) * sizeof(left[0]));
        n--;
    }
}
