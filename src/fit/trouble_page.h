#ifndef HBK_FIT_TROUBLE_PAGE_H
#define HBK_FIT_TROUBLE_PAGE_H

#include "fit/trouble_case.h"
#include "fit/trouble_player.h"

/*
 * A page of readings against one case. Private to fit/trouble.c and
 * fit/trouble_next.c.
 */
struct hbk_trouble_page {
    struct hbk_arena *arena;
    const struct hbk_horn *horn; /* of hbk_trouble_horn() */
    struct hbk_bound_readings bound;
    struct hbk_soundings soundings; /* one a reading, in order */
    struct hbk_peak *sound;         /* rows of the horn as it should be */
    double model_cents;             /* by which a note may be off for itself */
    const double *octaves;          /* of each reading above the tuning note */
    const double *sd;               /* of each reading: tuner and model */
    struct hbk_trouble_player player; /* of one thing wrong, or nothing */
    struct hbk_trouble_player loose;  /* where every note is off for itself */
    int c4; /* the sounding note that the page calls C4; 0: the horn's */
};

/*
 * What a case makes of a page: the logarithm of its likelihood, amount and
 * errors where it is likeliest.
 */
struct hbk_trouble_judged {
    double log_likelihood; /* -INFINITY where the horn cannot be computed */
    double amount, amount_sd;
    struct hbk_trouble result; /* but for the probability */
    double *left;              /* what is left of each reading, cents */
};

/* Ties the readings to the horn; errors as hbk_trouble_find(). */
enum hbk_status hbk_trouble_page_make(const struct hbk_horn *horn,
                                      const struct hbk_readings *readings,
                                      struct hbk_arena *arena,
                                      struct hbk_trouble_page *page,
                                      struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * By how many cents what was heard lies above the nearest resonance of a press,
 * of those that the player uses, or of the partial that is stated (0: none);
 * INFINITY where there is none. `nearest` (unless NULL) is given its partial.
 */
double hbk_trouble_off(const struct hbk_horn *horn, const struct hbk_peak row[],
                       unsigned stated, double hz, unsigned *nearest);

/*
 * From so many standard deviations on one of n readings does not fit: of pages
 * of good readings one in twenty has such a one.
 */
double hbk_trouble_aside_sd(size_t n);

struct hbk_trouble_judged
hbk_trouble_judge(const struct hbk_trouble_page *page,
                  const struct hbk_trouble_case *what);

#endif
