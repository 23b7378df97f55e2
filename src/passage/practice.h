#ifndef HBK_PASSAGE_PRACTICE_H
#define HBK_PASSAGE_PRACTICE_H

#include "passage/view.h"

/*
 * The hard places of a part as one practises them: a few bars at a time, in
 * the order of the part.
 */

/* Bars that are looked at together, at most: our own choice. */
enum { HBK_PRACTICE_BARS_MAX = 8 };

struct hbk_practice_place {
    /* Bars with something hard, an awkward trill too: [hard, hard_end). */
    size_t hard, hard_end;
    /*
     * The same with a bar to lead in, where the hard place comes early in its
     * bar, or to lead out, where it comes late; none where a player does not
     * simply read on, nor of rest.
     */
    size_t first, end;
    /* What stands in the last frame before it, as "B" or "Trio"; or NULL. */
    const char *letter;
    /* Where the same notes with the same fingerings come again: first bars. */
    size_t n_again;
    const size_t *again;
};

/* Whether a note has a trill that is awkward. */
bool hbk_practice_is_trill(const struct hbk_passage_note *note);

/* Of the bars shown; the arena owns them. */
const struct hbk_practice_place *
hbk_practice_find(const struct hbk_passage_view *view, struct hbk_arena *arena,
                  size_t *n);

/* Shows none but the bars of such places, with those that lead in and out. */
void hbk_practice_only(struct hbk_passage_view *view, struct hbk_arena *arena);

/* The view narrowed to the bars of a place that are hard. */
struct hbk_passage_view
hbk_practice_view(const struct hbk_passage_view *view,
                  const struct hbk_practice_place *place);

#endif
