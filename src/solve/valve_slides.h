#ifndef HBK_SOLVE_VALVE_SLIDES_H
#define HBK_SOLVE_VALVE_SLIDES_H

#include "base/fault.h"
#include "notes/notes.h"

/*
 * Where the slides of valves are drawn under a setting, one number for each of
 * horn->slides, m as the hand draws from home. Main slides get NAN. Slides that
 * are stuck get where they are stuck.
 *
 * Errors of both as hbk_tune_horn() and hbk_solve().
 */

bool hbk_has_valve_slides(const struct hbk_horn *horn);

/*
 * The draw in proportion: the one that makes a valve, pressed alone, lower the
 * horn as it is tuned under the setting by what it lowers the horn tuned to
 * its own pitch, without a crook and with its slides as they stand. Where it is
 * tuned as its player plays it, the valves follow his main slide; what he adds
 * to an interval with his lips they leave to him. It may lie beyond the travel,
 * or below 0. A second slide of one valve stays as it
 * stands; NAN where no partial tells.
 */
enum hbk_status hbk_valve_slides_own(const struct hbk_horn *horn,
                                     const struct hbk_setting *setting,
                                     struct hbk_arena *arena, double own_m[],
                                     struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * The best compromise within the travel: the draws that make the sum of
 *
 *   weight * (cents of the note's first choice)^2
 *
 * least over the notes in reach, each counting 1 and an extreme one
 * (hbk_notes_extreme) half. First choices follow the draws, so the two are
 * found in turn, from the draws in proportion. A slide that no first choice
 * tells anything of stays in proportion. Triggers are left out: they serve
 * one note at a time.
 *
 * own_m   from hbk_valve_slides_own()
 *
 * Accuracy: each draw within 0.05 mm of the least sum of its first choices.
 */
enum hbk_status hbk_valve_slides_best(const struct hbk_horn *horn,
                                      const struct hbk_setting *setting,
                                      const double own_m[],
                                      struct hbk_arena *arena, double best_m[],
                                      struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * The draws in proportion as far as the hand can make them: within the
 * travel, and as the slide stands where nothing tells. Main slides 0.
 */
void hbk_valve_slides_within(const struct hbk_horn *horn, const double own_m[],
                             double draw_m[]);

#endif
