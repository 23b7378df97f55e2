#ifndef HBK_SOLVE_SETUP_H
#define HBK_SOLVE_SETUP_H

#include "base/status.h"
#include "solve/tuning.h"

struct hbk_faults;

/*
 * Sets a horn up as a player does: crook and what is stuck; the main slides,
 * and bits, for the tuning note (solve/tuning.h); the valve slides as the
 * setting says:
 *
 *   own   each is drawn until its valve alone lowers the open horn by what it
 *         lowers it at the horn's own pitch and temperature without a crook,
 *         within its travel (common practice, no source: valve slides follow
 *         the main slide in proportion)
 *   best  the compromise of solve/valve_slides.h
 *   home  all are pushed in
 *
 * What then stays off on the tuning note is what the horn cannot
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
