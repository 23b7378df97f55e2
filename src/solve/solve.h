#ifndef HBK_SOLVE_SOLVE_H
#define HBK_SOLVE_SOLVE_H

#include "base/fault.h"
#include "notes/notes.h"

/*
 * Sets the horn up (solve/setup.h) and finds its notes (solve/search.h). Notes
 * are those of the pitch the horn then has, and what that lacks of the pitch
 * asked for is told once, in notes->tuned.
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

#endif
