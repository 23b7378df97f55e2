#ifndef HBK_SOLVE_TUNING_H
#define HBK_SOLVE_TUNING_H

#include "base/arena.h"
#include "base/status.h"
#include "notes/notes.h"
#include "solve/rig.h"

struct hbk_faults;

/*
 * The horn as it stands when it is played: worked out once for a setting, and
 * what every command and every sheet goes by.
 */
struct hbk_setup {
    struct hbk_rig rig;     /* everything in its place */
    struct hbk_tuned tuned; /* how it came there, and what stays off */
};

/*
 * Tunes the horn on its tuning note as a player does first: with the press
 * its file names, else open (or with the one finger that gives the note),
 * moving the main slides from where they stand in the order of the file within
 * their travel, and putting in bits only as far as the slides do not reach.
 * Slides that are stuck stay; a horn that has nothing to move stays as it is.
 *
 * The partial is the one that gives the tuning note under the horn's own
 * pitch and temperature, so that a far-off pitch asked for does not change it.
 *
 * setting       crook, a4, temperature; controls that are stuck are left out
 *               of account, since the slides stay where they were before the
 *               mishap
 * valve_draw_m  where the valve slides are, one per horn->slides, main ones
 *               ignored; NULL or raw: where they stand
 * setup         result: arrays from the arena
 *
 * Returns HBK_OK; HBK_ERR_INPUT when the tuning note lies further than a
 * semitone and a half from every resonance, which is a fault of the file.
 */
enum hbk_status hbk_tune_horn(const struct hbk_horn *horn,
                              const struct hbk_setting *setting,
                              const double *valve_draw_m,
                              struct hbk_arena *arena, struct hbk_setup *setup,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
