#ifndef HBK_FIT_TROUBLE_H
#define HBK_FIT_TROUBLE_H

#include "base/fault.h"
#include "notes/troubles.h"

/*
 * Which one thing wrong best explains a page of readings on a horn that
 * played well before: its file is taken to hold, up to some cents of each note
 * for itself. Those are the left-out error of the file where it was fitted, but
 * at least HBK_TROUBLE_MODEL_CENTS and at most HBK_TROUBLE_UNFITTED_CENTS,
 * which they are where it was not.
 *
 * Every pad, key, slide and valve is a case with one unknown amount
 * (fit/trouble_case.h). A case of amount v and a player who sounds all o cents
 * sharper, and s more with every octave above the tuning note, beyond the habit
 * of the file (horn/habit.h), expect cents for each reading. It is normal about
 * that, with the tuner's uncertainty and the cents of above, or, one time in
 * 1 / HBK_TROUBLE_SLIP, a slip that says little. o is normal about 0 with
 * HBK_TROUBLE_PITCH_CENTS, or, one time in 1 / HBK_TROUBLE_ASTRAY, anything
 * within 150 cents: tuner or mouthpiece are not those of the file. s is normal
 * about 0 with HBK_FIT_SLOPE_CENTS: the file may have been fitted for another
 * player. The likelihood of a case is the mean over v, o and s
 * (fit/trouble_player.h), so that a case which could have been anything is not
 * preferred to one that says little and is right.
 *
 * Beside the cases stand a sound horn, and one on which every note is off for
 * itself, by some HBK_TROUBLE_OTHER_CENTS: more than one thing, or what is no
 * case.
 *
 * A reading is named that lies further from the answer than chance explains
 * among so many, by its own uncertainty and that of the model.
 *
 * Which resonance was meant is not asked: of those that the player uses the
 * one nearest to the reading counts, or the nearest of the stated partial.
 *
 * Source: marginal likelihoods, any textbook of Bayesian statistics (from
 * memory). The shares and sizes (fit/trouble_priors.h) are our choice.
 */

/*
 * arena   owns the result, which borrows horn and readings
 *
 * Returns HBK_OK whatever the verdict; HBK_ERR_INPUT when a reading names
 * what the horn has not, HBK_ERR_DOMAIN when the horn cannot be computed.
 * `faults` has the reason.
 */
enum hbk_status hbk_trouble_find(const struct hbk_horn *horn,
                                 const struct hbk_readings *readings,
                                 struct hbk_arena *arena,
                                 struct hbk_troubles *found,
                                 struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
