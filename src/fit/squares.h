#ifndef HBK_FIT_SQUARES_H
#define HBK_FIT_SQUARES_H

#include "base/arena.h"
#include "fit/predict.h"

/*
 * Regularised least squares over readings that are all trusted: the inner
 * part of fit/fit.h.
 */
struct hbk_squares {
    const struct hbk_parameters *parameters; /* borrowed */
    const struct hbk_soundings *soundings;   /* borrowed */
    const double *heard;                     /* cents, as many */
    const double *sd;                        /* of each, > 0 */
    const bool *is_used;                     /* readings to be followed */
    /*
     * From so many cents on a reading counts by its distance and no more by
     * the square of it, so that what is far off does not drag the rest along;
     * one for each, or NULL for none.
     */
    const double *bend;

    /* Results, arrays of the caller's: n readings, k parameters. */
    double *d;         /* k; the start on entry */
    double *predicted; /* n cents; where to look for them on entry, or NAN */
    double *slopes;    /* n x k, per prior standard deviation */
    double *cov;       /* k x k, in the same units */
    double *leverage;  /* n; 0 for readings not followed */
    double sum;        /* the least, with that of the priors */
    /*
     * How far d has gone, in prior standard deviations, since the slopes were
     * computed: INFINITY at first, so that they are.
     */
    double strayed;
};

/*
 * Returns HBK_OK, or HBK_ERR_DOMAIN when the horn cannot be computed at the
 * start.
 */
enum hbk_status hbk_squares_solve(struct hbk_squares *squares) HBK_MUST_CHECK;

/*
 * What a reading that is `rest` cents off adds to the sum: the square of rest /
 * sd, and from the bend on the tangent of that.
 *
 * Source: Huber 1964, Annals of Mathematical Statistics 35 (from memory).
 */
double hbk_squares_share(double rest, double sd, double bend);

/* slope' cov slope: the variance of a prediction, cents^2. */
double hbk_squares_variance(size_t k, const double slope[], const double cov[]);

#endif
