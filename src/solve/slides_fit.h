#ifndef HBK_SOLVE_SLIDES_FIT_H
#define HBK_SOLVE_SLIDES_FIT_H

#include "base/status.h"
#include "solve/peak.h"

#include <stdint.h>

struct hbk_faults;

/* The parts of solve/slides.h that ask the air column. */

/* One note: the fingering that gives it and how much it counts. */
struct hbk_slides_item {
    uint32_t press; /* what is stuck down among it */
    unsigned partial;
    double target_hz;
    double weight; /* > 0 */
};

struct hbk_slides_use {
    size_t n;
    const struct hbk_slides_item *items;
};

struct hbk_slides_fit {
    const struct hbk_horn *horn;
    const struct hbk_rig *rig; /* tuned, with the draws to start from */
    uint32_t stuck;            /* slides that stay where the rig has them */
    const struct hbk_slides_use *use;
    const double *prior_m; /* one a slide; NAN for none */
    struct hbk_arena *arena;
    double before; /* result: weighted sum of squared cents at the start */
};

/*
 * The draws of the valve slides, within their travel, that make the weighted
 * sum of squared cents least, by one linear step: cents fall nearly evenly
 * with the draw, so that two or three steps in turn settle to 0.01 mm.
 *
 * draw_m   result, one a slide; main slides 0
 */
enum hbk_status hbk_slides_fit(struct hbk_slides_fit *fit, double draw_m[],
                               struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * For every valve slide the draw that gives its valve, pressed alone under
 * `rig`, the mean interval from the open horn that it has under `own`. Partials
 * are those a player uses. NAN for main slides, a second slide of one valve,
 * and where no partial tells.
 */
enum hbk_status hbk_slides_proportion(const struct hbk_horn *horn,
                                      const struct hbk_rig *own,
                                      const struct hbk_rig *rig,
                                      struct hbk_arena *arena,
                                      double proportion_m[],
                                      struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * Mean cents by which a further mm of a valve slide, as the hand draws,
 * moves what it is in for: the valve pressed alone, or for a loop that rests
 * in the open horn. NAN where no partial tells.
 */
enum hbk_status hbk_slides_slope(const struct hbk_horn *horn,
                                 const struct hbk_rig *rig, size_t slide,
                                 struct hbk_arena *arena, double *cents_per_mm,
                                 struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
