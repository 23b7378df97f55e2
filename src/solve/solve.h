#ifndef HBK_SOLVE_SOLVE_H
#define HBK_SOLVE_SOLVE_H

#include "base/fault.h"
#include "notes/notes.h"
#include "solve/setting.h"
#include "solve/tuning.h"

/* How far a player is trusted to bend a note unless told otherwise. */
#define HBK_LIP_CENTS 60.0

/*
 * Fingerings kept for one note; the worst beyond them are left out, but never
 * an open one nor one that is taught.
 */
enum { HBK_FINGERINGS_MAX = 12 };
/* Of those with a control more that changes nothing, how many are kept. */
enum { HBK_IDLE_MAX = 12 };

/*
 * Every written note the horn can reach under the setting, with all its
 * fingerings in ranked order (solve/ranking.h). The horn is set up first
 * (solve/setup.h); notes then are those of the pitch it has, and what that
 * lacks of the pitch asked for is told once, in notes->tuned.
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
enum hbk_status hbk_solve(const struct hbk_horn *horn,
                          const struct hbk_setting *setting,
                          struct hbk_arena *arena, struct hbk_notes *notes,
                          struct hbk_faults *faults) HBK_MUST_CHECK;

/* The same of a horn that is set up already, by hbk_set_up() or otherwise. */
enum hbk_status hbk_solve_as_set(const struct hbk_horn *horn,
                                 const struct hbk_setting *setting,
                                 const struct hbk_setup *setup,
                                 struct hbk_arena *arena,
                                 struct hbk_notes *notes,
                                 struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
