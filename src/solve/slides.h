#ifndef HBK_SOLVE_SLIDES_H
#define HBK_SOLVE_SLIDES_H

#include "base/fault.h"
#include "notes/slides.h"

/*
 * Where every slide is set under a setting (solve/setup.h), where else the
 * valve slides could be, and what the notes then give: the slides of valves
 * are a compromise, since each serves alone and with others.
 *
 * setting   raw must be false
 * arena     owns the result, which borrows the horn
 *
 * Errors as hbk_solve().
 */
enum hbk_status hbk_slides_plan(const struct hbk_horn *horn,
                                const struct hbk_setting *setting,
                                struct hbk_arena *arena,
                                struct hbk_slides *slides,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
