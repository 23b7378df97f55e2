#include "sheet/primer/primer_parts.h"

#include "sheet/primer/primer_music.h"
#include "sheet/primer/primer_signs.h"

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

static size_t share_printed(const struct hbk_booklet *booklet)
{
    return 100 * booklet->n_figured / booklet->primer->n_tunes;
}

/* In full at first, then at the notes of its own lesson, then none. */
static enum hbk_booklet_figured figured(const struct hbk_booklet *booklet)
{
    const size_t share = share_printed(booklet);
    return share < FULL_SHARE   ? HBK_BOOKLET_FULL
           : share < SOME_SHARE ? HBK_BOOKLET_NEW
                                : HBK_BOOKLET_NONE;
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

void hbk_primer_tune_draw(struct hbk_booklet *booklet, size_t number)
{
    struct hbk_article *const article = &booklet->article;
    struct hbk_arena *const arena = article->pad.sheet->arena;
    const struct hbk_primer_tune *const tune = &booklet->primer->tunes[number];
    const enum hbk_booklet_figured how = figured(booklet);
    const struct hbk_figures figures = figures_of(booklet, tune, how);
    const struct hbk_booklet_music music = hbk_booklet_engrave(
        booklet, tune->tune, &figures, article->x, article->width);
    const char *const explained =
        hbk_primer_explain(booklet, hbk_primer_signs_of(booklet, tune->tune) |
                                        hbk_primer_sign_of_figures(how));
    booklet->n_figured++;
    hbk_booklet_heading(booklet,
                        tune->tune->composer[0] == '\0'
                            ? tune->tune->title
                            : hbk_arena_printf(arena, "%s (%s)",
                                               tune->tune->title,
                                               tune->tune->composer),
                        hbk_booklet_mm(booklet, 2.0) + music.height +
                            hbk_booklet_words_height(booklet, explained));
    hbk_booklet_words(booklet, explained);
    hbk_booklet_music(booklet, &music);
}

void hbk_primer_tunes(struct hbk_booklet *booklet)
{
    const struct hbk_primer *const primer = booklet->primer;
    bool begun = false;
    for (size_t i = 0; i < primer->n_tunes; i++) {
        if (hbk_primer_tune_of(primer, primer->tunes[i].after) == i &&
            primer->tunes[i].after <= primer->lessons->n &&
            primer->tunes[i].after > 0) {
            continue; /* it stands in its lesson */
        }
        if (!begun) {
            begun = true;
            hbk_booklet_chapter(booklet, "Tunes",
                                hbk_booklet_mm(booklet, 85.0));
            hbk_booklet_words(
                booklet, "More tunes of the notes you have by now, the easiest "
                         "first. Sing each before you play it.");
        }
        hbk_primer_tune_draw(booklet, i);
    }
}
