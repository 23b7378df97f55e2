#ifndef HBK_SOLVE_SEARCH_H
#define HBK_SOLVE_SEARCH_H

#include "base/fault.h"
#include "notes/notes.h"
#include "solve/tuning.h"

/*
 * Every written note that a horn as it is set up can reach, with all its
 * fingerings in ranked order (solve/ranking.h).
 *
 * A fingering within lip_cents of a note counts as a way to play it. One
 * that presses more controls than another on the same partial is kept only
 * if that brings it at least 3 cents nearer, or is taught and the other is not
 * (solve/taught.h); otherwise, with just one control more and within 12 cents,
 * it goes to the idle ones (notes/notes.h). Neither limit touches the first
 * choice, which is the cheapest whatever it resembles. A trigger is drawn as
 * far as the note needs. The compass is the horn's own, or from the lowest to
 * the highest note that any fingering gives.
 *
 * arena   owns the results, which borrow the horn
 *
 * Returns HBK_OK (also for a horn with gaps), HBK_ERR_INPUT or
 * HBK_ERR_DOMAIN with the reason in `faults`; notes are then untouched.
 */
enum hbk_status hbk_solve_as_set(const struct hbk_horn *horn,
                                 const struct hbk_setting *setting,
                                 const struct hbk_setup *setup,
                                 struct hbk_arena *arena,
                                 struct hbk_notes *notes,
                                 struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
