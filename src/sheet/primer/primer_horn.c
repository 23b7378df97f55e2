#include "sheet/primer/primer_parts.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/press.h"
#include "sheet/block/head.h"
#include "sheet/block/title.h"
#include "sheet/primer/primer_controls.h"
#include "sheet/primer/primer_tuning.h"
#include "sheet/primer/primer_words.h"
#include "sheet/words/words.h"
#include "sheet/words/words_beside.h"
#include "sheet/words/words_read.h"

static const double title_points = 25.0;
static const double title_rule = 70.0;

static void put_title(struct hbk_booklet *booklet)
{
    struct hbk_article *const article = &booklet->article;
    struct hbk_arena *const arena = article->pad.sheet->arena;
    const char *name;
    const char *rest;
    hbk_head_split(arena, article->title, &name, &rest);
    const char *const whom = hbk_words_whom(arena, booklet->options->whom);
    const double u = article->unit;
    const struct hbk_title title = {
        .name = name,
        .below = hbk_arena_printf(arena, "%s%sa primer%s%s", rest,
                                  rest[0] == '\0' ? "" : " \u00B7 ",
                                  whom[0] == '\0' ? "" : " \u00B7 ", whom),
        .points = title_points,
        .unit = u,
        .rule = title_rule};
    hbk_article_title(article, &title);
    article->y += 3.0 * u;
}

/* What carries over from a horn that the player knows. */
static void put_known(struct hbk_booklet *booklet)
{
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_notes *const here = booklet->primer->notes;
    const struct hbk_notes *const known = booklet->primer->known;
    const char *const warning = hbk_beside_warning(arena, here, known);
    hbk_booklet_heading(booklet, hbk_beside_coming(arena, here, known),
                        hbk_booklet_mm(booklet, 12.0));
    if (warning[0] != '\0') {
        hbk_booklet_words(booklet, hbk_arena_printf(arena, "%s.", warning));
    }
    hbk_booklet_words(booklet, hbk_beside_summary(arena, here, known));
    hbk_booklet_words(booklet, hbk_beside_pressing(arena, here, known));
    hbk_booklet_words(booklet, hbk_beside_rest(arena, here, known));
    hbk_booklet_words(booklet, hbk_beside_reversed(arena, here, known));
    hbk_booklet_words(booklet, hbk_beside_beyond(arena, here, known));
    hbk_booklet_words(booklet, hbk_beside_sounds(arena, here, known));
}

static const char *where_chart_is(const struct hbk_booklet *booklet)
{
    const bool has_beside = booklet->primer->known != NULL;
    return booklet->options->fold
               ? hbk_arena_printf(
                     booklet->article.pad.sheet->arena,
                     "The chart across the middle of this booklet shows the "
                     "horn and all its notes: turn to it whenever a fingering "
                     "is in doubt.%s",
                     has_beside
                         ? " The loose leaf shows what carries over from "
                           "the horn you know and what turns round."
                         : "")
               : hbk_arena_printf(
                     booklet->article.pad.sheet->arena,
                     "The chart at the front shows %s%s%s whenever a "
                     "fingering is in doubt.%s",
                     booklet->has_plate ? "the horn and all its notes"
                                        : "all notes of the horn",
                     has_beside ? ", and after it stands what carries over "
                                  "from the horn you know and what turns round"
                                : "",
                     has_beside ? ". Turn to them" : ": turn to it",
                     booklet->has_plate ? ""
                                        : " This is the horn, drawn straight:");
}

/* What the names of notes and of steps mean. */
static const char *names_mean(struct hbk_arena *arena,
                              const struct hbk_primer *primer)
{
    enum { OCTAVE = 12 };
    const struct hbk_notes *const notes = primer->notes;
    const struct hbk_first *const first = &primer->lessons->first;
    const int near = first->n == 0
                         ? HBK_NOTE_C4
                         : hbk_notation_note(&notes->notation, first->notes[0]);
    const int low = near - (near % OCTAVE) - notes->notation.shift;
    return hbk_arena_printf(
        arena,
        "The figure after the letter of a note is its octave: %s is an octave "
        "above %s. A semitone is the smallest step from note to note, a whole "
        "tone is two of them; a tuner counts 100 cents to a semitone.",
        hbk_words_read(arena, notes, low + OCTAVE),
        hbk_words_read(arena, notes, low));
}

void hbk_primer_horn(struct hbk_booklet *booklet)
{
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_notes *const notes = booklet->primer->notes;
    put_title(booklet);
    hbk_booklet_chapter(booklet, "This horn", hbk_booklet_mm(booklet, 12.0));
    hbk_booklet_words(booklet, where_chart_is(booklet));
    if (!booklet->has_plate) {
        hbk_primer_draw_horn(booklet);
    }
    hbk_booklet_words(booklet, hbk_primer_where(arena, notes));
    hbk_booklet_words(booklet, names_mean(arena, booklet->primer));
    hbk_booklet_words(booklet, hbk_primer_how(arena, notes));
    hbk_booklet_words(
        booklet, hbk_arena_printf(arena, "%s %s %s",
                                  hbk_words_set(arena, notes, HBK_WORDS_FULL),
                                  hbk_words_rest(arena, notes, HBK_WORDS_FULL),
                                  hbk_words_assumed(arena, notes)));
    hbk_booklet_words(booklet, hbk_primer_set(arena, notes));
    /* The page that compares both horns is not in large print. */
    if (booklet->primer->known != NULL && booklet->options->large) {
        put_known(booklet);
    }
}

void hbk_primer_care(struct hbk_booklet *booklet)
{
    const char *const words =
        hbk_arena_printf(booklet->article.pad.sheet->arena,
                         "%s Verdigris is the green coat that brass takes on; "
                         "it is poisonous, as lead is.",
                         hbk_words_cautions());
    hbk_booklet_chapter(booklet, "Care, before the first note",
                        hbk_booklet_words_height(booklet, words));
    hbk_booklet_words(booklet, words);
}
