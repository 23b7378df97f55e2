#ifndef HBK_SOLVE_CURVE_H
#define HBK_SOLVE_CURVE_H

#include "base/fault.h"
#include "notes/curve.h"

/* What is to be looked at. */
struct hbk_curve_ask {
    size_t n; /* 1 to HBK_CURVES_MAX */
    const uint32_t *presses;
    double to_hz;    /* HBK_CURVE_TO_LEAST_HZ to HBK_CURVE_TO_MOST_HZ */
    size_t n_points; /* HBK_CURVE_POINTS_LEAST to _MOST */
};

#define HBK_CURVE_TO_USUAL_HZ 1400.0
#define HBK_CURVE_TO_LEAST_HZ 200.0
#define HBK_CURVE_TO_MOST_HZ 4000.0

enum {
    HBK_CURVE_POINTS_USUAL = 1000,
    HBK_CURVE_POINTS_LEAST = 50,
    HBK_CURVE_POINTS_MOST = 20000
};

/*
 * The impedance of a horn with a bore, in each of the fingerings asked for:
 * the level at every point of the grid, evaluated directly, and the maxima
 * with their numbers and the pitch that is heard at each, as the notes have it.
 * The horn is tuned first unless the setting is raw.
 *
 * arena    owns the results, which borrow the horn
 * curves   result; untouched on failure
 *
 * Returns HBK_OK; HBK_ERR_NO_RESULT for a horn without a bore; or what the
 * tuning and the chain of the bore return. `faults` has the reason.
 *
 * Accuracy: levels those of hbk_chain_impedance, maxima those of
 * hbk_walk_run.
 */
enum hbk_status hbk_curves_compute(const struct hbk_horn *horn,
                                   const struct hbk_setting *setting,
                                   const struct hbk_curve_ask *ask,
                                   struct hbk_arena *arena,
                                   struct hbk_curves *curves,
                                   struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
