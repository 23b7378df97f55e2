#ifndef HBK_FIT_IDENTIFY_H
#define HBK_FIT_IDENTIFY_H

#include "base/fault.h"
#include "notes/identified.h"

/*
 * How likely each layout is, given notes tried on an unsigned horn.
 *
 * Every layout predicts the readings with an error that is normal: that of
 * the tuner, HBK_IDENTIFY_MODEL_CENTS for the model, what is uncertain of the
 * layout's numbers (fit/parameters.h), and an overall pitch that may be
 * anywhere within HBK_IDENTIFY_PITCH_CENTS, so that pitch is not what decides.
 * The likelihood is the density of that normal distribution; layouts are
 * taken to be equally likely beforehand. A layout without a control that was
 * pressed is impossible. A reading that no partial explains is a slip, of which
 * HBK_IDENTIFY_SLIP is the share among notes tried: it counts against the
 * layout, but not without end.
 *
 * The next note is the one whose pitch tells most about the layout: the
 * mutual information of both, by summing over a grid of pitches.
 */
#define HBK_IDENTIFY_PITCH_CENTS 200.0
#define HBK_IDENTIFY_MODEL_CENTS 8.0
#define HBK_IDENTIFY_SLIP 0.02

/*
 * horns   n of them, n >= 1
 * arena   owns the result, which borrows horns and readings
 *
 * Returns HBK_OK; HBK_ERR_NO_RESULT when no layout is possible, with the
 * result set all the same.
 */
enum hbk_status hbk_identify(size_t n, const struct hbk_horn *const *horns,
                             const struct hbk_readings *readings,
                             struct hbk_arena *arena,
                             struct hbk_identified *found) HBK_MUST_CHECK;

#endif
