#ifndef HBK_SHEET_PRIMER_PRIMER_H
#define HBK_SHEET_PRIMER_PRIMER_H

#include "base/status.h"
#include "lesson/order.h"
#include "notes/fitted.h"
#include "notes/scales.h"
#include "notes/trills.h"
#include "page/pad.h"

/*
 * The primer: a booklet from which somebody who has never held the horn learns
 * it alone. How it works, care, the first five notes, lessons with studies and
 * tunes, scales and movements, and a page for the tuner.
 */

/* A tune with the lesson after which it can be played. */
struct hbk_primer_tune {
    const struct hbk_tune *tune; /* as the horn is written */
    size_t after;                /* from 1 */
};

struct hbk_primer {
    const struct hbk_notes *notes;
    const struct hbk_notes *known; /* a horn the player knows; NULL for none */
    const struct hbk_lessons *lessons;
    const struct hbk_scales *scales;
    const struct hbk_trills *trills;
    size_t n_tunes;
    const struct hbk_primer_tune *tunes; /* the easiest first */
    size_t n_next;                       /* notes that tell most of the horn; */
    const struct hbk_fit_next *next;     /* see fit/next.h */
};

struct hbk_primer_options {
    enum hbk_paper paper; /* A4, A5 or Letter; the size of a page */
    const char *title;    /* in place of the horn's name; NULL for that */
    const char *whom;     /* for whom it is; NULL for nobody */
    bool large;           /* in large print */
    /* Two pages on each side of a sheet twice as large, to be folded
       (page/impose.h); not Letter. */
    bool fold;
};

/* Whether a primer can have such pages: A4, A5 or Letter. */
bool hbk_primer_takes(enum hbk_paper paper);

/*
 * Lays out the booklet. A horn on which there is nothing to teach gets what is
 * left, and is told why.
 *
 * sheet   zero-initialised but for its arena; receives the pages
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when the horn has no note at all or the
 * paper is another; the sheet then has no page.
 */
enum hbk_status hbk_sheet_primer(const struct hbk_primer *primer,
                                 const struct hbk_primer_options *options,
                                 const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
