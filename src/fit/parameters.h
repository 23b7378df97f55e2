#ifndef HBK_FIT_PARAMETERS_H
#define HBK_FIT_PARAMETERS_H

#include "fit/parameter.h"

struct hbk_arena;

/*
 * How far players differ in what they add from one octave to the next, cents,
 * one standard deviation. Ours: players of one trumpet were found more than
 * 50 cents apart (fit/SOURCES.md).
 */
#define HBK_FIT_SLOPE_CENTS 10.0

/*
 * What is uncertain where the names of its keys are followed (fit/unknowns.h);
 * is_read: readings of a tuner too.
 */
void hbk_parameters_list_named(const struct hbk_horn *horn, bool is_read,
                               struct hbk_parameters *parameters);

/* Everything uncertain about the horn. */
void hbk_parameters_list(const struct hbk_horn *horn,
                         struct hbk_parameters *parameters);

/*
 * The horn with the deviations d[n] put in. `changed` borrows from the horn
 * and from the arena, and must not be finished.
 *
 * Returns false when the result is no horn any more: a hole beyond the bell,
 * a key that raises by nothing.
 */
bool hbk_parameters_apply(const struct hbk_parameters *parameters,
                          const double d[], struct hbk_arena *arena,
                          struct hbk_horn *changed);

/* Beyond which place of the axis HBK_FIT_LENGTH moves everything, m. */
double hbk_parameters_insert_m(const struct hbk_horn *horn);

#endif
