#ifndef HBK_FIT_LET_GO_H
#define HBK_FIT_LET_GO_H

#include "fit/fitter.h"

/*
 * A value that is further off than its prior allows: a slide that was pulled,
 * a pad that no longer opens as it did. Its readings contradict all others,
 * and would be set aside as slips or taken for scatter though they agree among
 * themselves.
 *
 * Each loop and each hole is tried with its own prior put aside: in place of
 * it the value may move notes by HBK_FIT_LET_GO_CENTS, one standard deviation.
 * The least sum then falls by g, a slip counting in it as HBK_FIT_SLIP^2, and
 * the gain is
 *
 *   (n + 2) ln(1 + g / (max(S, n) + 1)),
 *
 * S being the sum of squares that is left and n its degrees of freedom: twice
 * the logarithm of the likelihood, where how far readings scatter is known from
 * what is left and, as one more degree, from what they state. A value is let go
 * where the gain is HBK_FIT_LET_GO_MARGIN, of a hole
 * HBK_FIT_LET_GO_HOLE_MARGIN, and HBK_FIT_LET_GO_READINGS readings at least
 * bear on it that are followed then: one slip by itself, or slips that do not
 * agree, let nothing go. And it must have gone further than
 * HBK_FIT_LET_GO_MOVED standard deviations of what the file says.
 *
 * Which value, is looked for by the linearised fit; the fit itself decides.
 * With it readings that were not followed are tied to a partial anew: one that
 * lies a semitone off may have been taken for the next.
 */
#define HBK_FIT_LET_GO_CENTS 60.0
#define HBK_FIT_LET_GO_MOVED 2.0

/*
 * e^(margin / 2), 40 and 400 to 1, for it. Ours: slides are pulled every day;
 * holes are many, of two numbers each, and less well described.
 */
#define HBK_FIT_LET_GO_MARGIN 7.5
#define HBK_FIT_LET_GO_HOLE_MARGIN 12.0

enum { HBK_FIT_LET_GO_READINGS = 2, HBK_FIT_LET_GO_MOST = 3 };

/*
 * Lets go what has to be, at most HBK_FIT_LET_GO_MOST values, each with the
 * fit to all readings done anew. f is fitted, its slips set aside, and stays
 * so; `sd` of a parameter that is let go is the wider one, `prior_sd` of the
 * fit still that of the file.
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when the horn cannot be computed.
 */
enum hbk_status hbk_fitter_let_go(struct hbk_fitter *f) HBK_MUST_CHECK;

#endif
