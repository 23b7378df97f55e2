#ifndef HBK_SOLVE_TUNING_H
#define HBK_SOLVE_TUNING_H

#include "base/arena.h"
#include "notes/notes.h"
#include "solve/column.h"

/*
 * Tunes the horn on its tuning note as a player does first: with the press
 * its file names, else open (or with the one finger that gives the note),
 * drawing the main
 * slides in the order of the file within their travel, and putting in bits
 * only as far as the slides do not reach. A horn that has neither is taken
 * as if its tube could be made longer or shorter at the receiver.
 *
 * The partial is the one that gives the tuning note under the horn's own
 * pitch and temperature, so that a far-off --a4 does not change it.
 *
 * setting   crook, a4, temperature; stuck controls are left out of account,
 *           since the slides stay where they were before the mishap, unless
 *           tune_stuck is set: then the press that gives the tuning note has
 *           what is stuck down among it, and nothing of what is stuck up
 * rig       result: everything in the place it has when playing
 * tuned     result: arrays from the arena
 *
 * Returns HBK_OK; HBK_ERR_INPUT when the tuning note lies further than a
 * semitone and a half from every resonance, which is a fault of the file.
 */
enum hbk_status hbk_tune_horn(const struct hbk_horn *horn,
                              const struct hbk_setting *setting,
                              struct hbk_arena *arena, struct hbk_rig *rig,
                              struct hbk_tuned *tuned,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

/* The sounding note of written C4 with the setting's crook. */
int hbk_setting_written_c4(const struct hbk_horn *horn,
                           const struct hbk_setting *setting);

#endif
