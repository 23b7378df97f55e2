#ifndef HBK_FIT_SLIPS_H
#define HBK_FIT_SLIPS_H

#include "fit/fitter.h"

/*
 * Readings that scatter further about the fit than they state, as chance does
 * less often than this, are said to do so. The sum of (r / s)^2 has as many
 * degrees of freedom as there are readings less their leverages: exact in the
 * mean where the priors are right.
 */
#define HBK_FIT_SCATTER_CHANCE 0.05

/* Beyond that many standard deviations a reading is a slip. */
#define HBK_FIT_SLIP 3.5

/*
 * The sum of (r / s)^2 of the readings of a tuner that are followed, and its
 * degrees of freedom: as many as there are, less their leverages.
 */
double hbk_fitter_misfit(const struct hbk_fitter *f, double *freedom);

/* Fits with all readings, and again without slips; see fit/fit.h. */
enum hbk_status hbk_fitter_leave_out_slips(struct hbk_fitter *f) HBK_MUST_CHECK;

/*
 * Readings are as uncertain as they scatter, slips aside; what comes back for
 * that may tell of more scatter. Names are no readings: theirs stays.
 */
enum hbk_status hbk_fitter_follow_scatter(struct hbk_fitter *f) HBK_MUST_CHECK;

#endif
