#ifndef HBK_SOLVE_REACH_H
#define HBK_SOLVE_REACH_H

#include "base/status.h"
#include "notes/slides.h"
#include "solve/tuning.h"

struct hbk_faults;

/*
 * The range of A4 in which the tuning note can be put in tune, without a
 * gap but for bits that add more than the slides can draw; cents a mm of the
 * main slide (its hand, further out) and cents a degree, both of the tuning
 * note and about the state in which the horn is tuned to the setting.
 *
 * setting   crook, temperature, A4; slides that are stuck; stuck controls as
 *           hbk_tune_horn() has them
 *
 * Errors as hbk_tune_horn().
 */
enum hbk_status hbk_reach_of(const struct hbk_horn *horn,
                             const struct hbk_setting *setting,
                             struct hbk_arena *arena, struct hbk_reach *reach,
                             struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * Hz of one partial of one press, or 0 where it does not sound.
 */
enum hbk_status hbk_sound_one(const struct hbk_horn *horn,
                              const struct hbk_rig *rig, uint32_t press,
                              unsigned partial, double *hz,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
