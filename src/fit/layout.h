#ifndef HBK_FIT_LAYOUT_H
#define HBK_FIT_LAYOUT_H

#include "fit/predict.h"
#include "notes/identified.h"

/*
 * One layout against the readings of an unsigned horn: a normal distribution
 * over everything it can sound. Private to fit/identify.c.
 */
struct hbk_layout {
    struct hbk_arena *arena;
    const struct hbk_horn *horn;
    struct hbk_parameters parameters;
    struct hbk_bound_readings bound;
    size_t k;       /* parameters, and the overall pitch as the last */
    double *slopes; /* of the readings as assigned, n x k, per prior sd */
    double *rest;   /* heard less predicted, n */
    double *factor; /* of the covariance of the rest, n x n */
    double *weight; /* its inverse times rest, n */
    double log_likelihood;
};

/*
 * Ties the readings to the layout and finds its likelihood. `result` gets
 * everything but the probability.
 */
void hbk_layout_judge(struct hbk_layout *layout,
                      const struct hbk_readings *readings,
                      struct hbk_identified_layout *result);

/* What a layout that explains the readings expects of another note. */
struct hbk_layout_guess {
    double hz; /* expected; 0 where that partial does not sound */
    double sd_cents;
};

/*
 * guesses[i * HBK_PEAK_STRIDE + p] for every partial p of presses[i], under
 * the first setting of the readings. All at once, since a bored horn takes
 * as long for one press as for many.
 */
void hbk_layout_guess(const struct hbk_layout *layout, size_t n,
                      const uint32_t presses[],
                      struct hbk_layout_guess guesses[]);

#endif
