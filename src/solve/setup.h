#ifndef HBK_SOLVE_SETUP_H
#define HBK_SOLVE_SETUP_H

#include "base/fault.h"
#include "notes/notes.h"
#include "solve/column.h"

/*
 * The horn as it stands when it is played: worked out once for a setting, and
 * what every command and every sheet goes by.
 */
struct hbk_setup {
    struct hbk_rig rig;     /* everything in its place */
    struct hbk_tuned tuned; /* how it came there, and what stays off */
};

/*
 * Sets a horn up as a player does: crook and what is stuck; the main slides,
 * and bits, for the tuning note (solve/tuning.h); the valve slides as the
 * setting says. What then stays off on the tuning note is what the horn cannot
 * reach: tuned.left_cents, and tuned.pitch_hz is the pitch it has.
 *
 * arena   owns the draws
 *
 * Errors as hbk_tune_horn().
 */
enum hbk_status hbk_set_up(const struct hbk_horn *horn,
                           const struct hbk_setting *setting,
                           struct hbk_arena *arena, struct hbk_setup *setup,
                           struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
