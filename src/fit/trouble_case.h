#ifndef HBK_FIT_TROUBLE_CASE_H
#define HBK_FIT_TROUBLE_CASE_H

#include "fit/predict.h"
#include "notes/troubles.h"

/*
 * One thing wrong, put into a horn.
 *
 *   leak   a bored horn gets a round hole beside the one that the pad covers,
 *          open while that is closed; its amount is the diameter, up to that
 *          of the hole
 *   lift   the amount is how far the pad still lifts
 *   slide  how much further out it is than said; a slide of a valve lengthens
 *          what the valve brings in
 *   stuck  the valve counts as pressed, or as not, whatever is pressed
 *
 * By length neither holes nor pads have a size. There a hole that is neither
 * open nor closed acts as a mass of air beside the rest of the tube: with a
 * tube l that it would cut off if it were open,
 *
 *   length = closed - l^2 / (l + t)
 *
 * where t, the amount, is the tube of the bore's width that is as heavy as the
 * air in the leak: 0 for an open hole, endless for a closed one. It moves only
 * notes for which l is not 0: those below it.
 *
 * Source: two inertances side by side, any textbook of acoustics (from
 * memory); it holds for low notes, above the hole lies no part of the wave.
 */

/* Amounts from the least to the most of a case, in so many steps. */
enum { HBK_TROUBLE_STEPS = 11 };

struct hbk_trouble_range {
    size_t n; /* 1 where there is no amount */
    double amount[HBK_TROUBLE_STEPS];
};

/*
 * The horn with a slide of HBK_TROUBLE_SLIDE_M on every valve that has none;
 * it lives in the arena and borrows the rest from the horn.
 */
#define HBK_TROUBLE_SLIDE_M 0.025
const struct hbk_horn *hbk_trouble_horn(const struct hbk_horn *horn,
                                        struct hbk_arena *arena);

/* A rig of `horn` for the one with more slides; draws live in the arena. */
struct hbk_rig hbk_trouble_rig(const struct hbk_horn *horn,
                               const struct hbk_rig *rig,
                               struct hbk_arena *arena);

/*
 * All cases of a horn, not those of what is stuck in every reading; returns
 * how many. Room for HBK_TROUBLE_CASES_MAX.
 */
enum {
    HBK_TROUBLE_CASES_MAX =
        2 * HBK_SITES_MAX + HBK_SLIDES_MAX + 2 * HBK_CONTROLS_MAX
};
size_t hbk_trouble_cases(const struct hbk_horn *horn,
                         const struct hbk_stuck *stuck,
                         struct hbk_trouble_case cases[]);

/* Which amounts a case may have, with the slides as the rigs have them. */
struct hbk_trouble_range hbk_trouble_range(const struct hbk_horn *horn,
                                           const struct hbk_trouble_case *what,
                                           size_t n_rigs,
                                           const struct hbk_rig rigs[]);

/*
 * All resonances of every press of the soundings on the horn with that wrong:
 * rows[c * HBK_PEAK_STRIDE + p] for their column c. HBK_TROUBLE_NONE and
 * OTHER: as it should be.
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when such a horn cannot be computed.
 */
enum hbk_status hbk_trouble_rows(const struct hbk_horn *horn,
                                 const struct hbk_trouble_case *what,
                                 double amount,
                                 const struct hbk_soundings *soundings,
                                 struct hbk_peak rows[]) HBK_MUST_CHECK;

#endif
