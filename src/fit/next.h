#ifndef HBK_FIT_NEXT_H
#define HBK_FIT_NEXT_H

#include "fit/estimate.h"

/* Less than that is not worth a breath: nobody hears it. Ours. */
#define HBK_FIT_NEXT_LEAST_CENTS 0.5

/*
 * Which notes to read next, and how surely the notes are known before and
 * after the fit. What counts is the variance of the best fingering of every
 * note of the compass once the horn is tuned on its tuning note, predicted
 * from the linearised fit, without what the player adds; the fingering that
 * takes away most of it comes first, the next is chosen as if that had been
 * read. None is chosen that would take less than HBK_FIT_NEXT_LEAST_CENTS from
 * the expected error of the notes, or that is known twice as well as a tuner
 * tells.
 *
 * Fills n_next, next, notes and notes_sd_before and notes_sd_after of the
 * report; they stay 0 when the fitted horn cannot be tuned.
 */
void hbk_fit_find_next(struct hbk_fit *fit, struct hbk_arena *arena);

#endif
