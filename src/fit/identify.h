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
 * Likelihoods only compare. Whether a layout explains the readings at all is
 * told by the chi-square of the same errors, slips aside (fit/goodness.h), and
 * the likelihoods are shared among those that do.
 *
 * Where none does, the page is also understood otherwise: with the notes
 * named by the tuner, with the keys counted from the other end, with both. The
 * first of these that explains it within HBK_IDENTIFY_HOME_CENTS of the horn's
 * pitch is told, else the first that explains it. Where the likeliest layout
 * explains the page, but further from its pitch than that, the tuner's names
 * are told if they bring it home: names of notes are a semitone apart, so half
 * of one is where another name lies nearer.
 *
 * The next note is the one whose pitch tells most about the layout: the
 * mutual information of both, by summing over a grid of pitches.
 */
#define HBK_IDENTIFY_HOME_CENTS 50.0

/* A layout less likely than that is not worth telling from the others. */
#define HBK_IDENTIFY_WORTH 0.002

/*
 * horns   n of them, n >= 1
 * arena   owns the result, which borrows horns and readings
 *
 * Returns HBK_OK; HBK_ERR_NO_RESULT when no layout explains the page as it
 * is, with the result set all the same.
 */
enum hbk_status hbk_identify(size_t n, const struct hbk_horn *const *horns,
                             const struct hbk_readings *readings,
                             struct hbk_arena *arena,
                             struct hbk_identified *found) HBK_MUST_CHECK;

#endif
