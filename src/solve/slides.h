#ifndef HBK_SOLVE_SLIDES_H
#define HBK_SOLVE_SLIDES_H

#include "base/fault.h"
#include "notes/slides.h"

/*
 * Where every slide is best set for a setting.
 *
 * The main slides go where the tuning note is in tune (solve/tuning.h). The
 * slides of valves are a compromise, since each serves alone and with
 * others: the draws, within their travel, that make the sum of
 *
 *   weight * (cents of the note's first choice)^2
 *
 * least over the notes in reach, each counting 1 and an extreme one
 * (hbk_notes_extreme) half. First choices follow the draws, so the two are
 * found in turn, from the draws in proportion. A slide that no first choice
 * tells anything of stays in proportion. Triggers are left out: they serve
 * one note at a time.
 *
 * setting   valve_draw_m is ignored; raw must be false; stuck controls limit
 *           the first choices, but not the tuning
 * arena     owns the result, which borrows the horn
 *
 * Accuracy: each draw within 0.05 mm of the least sum of its first choices.
 * Errors as hbk_solve().
 */
enum hbk_status hbk_slides_plan(const struct hbk_horn *horn,
                                const struct hbk_setting *setting,
                                struct hbk_arena *arena,
                                struct hbk_slides *slides,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
