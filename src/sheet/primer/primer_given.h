#ifndef HBK_SHEET_PRIMER_PRIMER_GIVEN_H
#define HBK_SHEET_PRIMER_PRIMER_GIVEN_H

#include "lesson/order.h"
#include "notes/fitted.h"
#include "notes/scales.h"
#include "notes/trills.h"
#include "page/paper.h"

/* What a primer is made of, and how it is wanted; everything is borrowed. */

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

#endif
