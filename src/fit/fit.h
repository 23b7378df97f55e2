#ifndef HBK_FIT_FIT_H
#define HBK_FIT_FIT_H

#include "fit/estimate.h"
#include "horn/readings.h"

/*
 * Fits a horn to tuner readings: the least of
 *
 *   sum over readings ((heard - predicted) / s)^2 + sum over parameters
 *   (d / sd)^2,    s^2 = uncertainty^2 + model^2,
 *
 * by Gauss-Newton steps that are halved until the sum falls. The second sum
 * keeps what the readings do not tell at the value of the file.
 *
 * Slips: from the fit with all readings, the reading that lies furthest from
 * the fit without it, in units of what chance allows there, is set aside and
 * the rest fitted again, as long as it lies further than HBK_FIT_SLIP
 * (fit/slips.h); in the end those come back that the fit without them explains.
 * At most a third may be without use, those among them that belong to no note:
 * beyond that nothing is fitted, since it is rather the horn or the names of
 * the notes that are wrong. Several that contradict the others and agree among
 * themselves are no slips: the value that they share is let go (fit/let_go.h).
 *
 * Then the readings are taken to be as uncertain as they scatter
 * (fit/scatter.h), and fitted once more. Names of keys (fit/names.h) are not.
 *
 * Leave-one-out errors are r / (1 - h) with the leverage h of the linearised
 * fit: exact where the model is linear in its parameters.
 *
 * Source: regularised least squares and its deletion formulas, any textbook
 * of regression (from memory).
 */

/*
 * arena   owns the results, which borrow horn and readings
 *
 * Returns HBK_OK, with warnings for slips; HBK_ERR_INPUT when a reading names
 * what the horn has not or too few can be used, which may be told to be the
 * other way of naming notes; HBK_ERR_DOMAIN when the horn
 * cannot be computed. `faults` has the reason.
 */
enum hbk_status hbk_fit_horn(const struct hbk_horn *horn,
                             const struct hbk_readings *readings,
                             struct hbk_arena *arena, struct hbk_fit *fit,
                             struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * The horn before anything is read, as its file has it: what to read first
 * (fit/next.h), after the note that it is tuned on, stands in fit->report, and
 * nothing else. `stuck`: what cannot
 * move. The arena owns the result, which borrows the horn.
 */
void hbk_fit_unread(const struct hbk_horn *horn, const struct hbk_stuck *stuck,
                    struct hbk_arena *arena, struct hbk_fit *fit);

#endif
