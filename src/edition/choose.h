#ifndef HBK_EDITION_CHOOSE_H
#define HBK_EDITION_CHOOSE_H

#include "base/fault.h"
#include "edition/ask.h"
#include "report/choose.h"
#include "tune/melody/tune.h"

/*
 * Whether horns can be tried on a tune at all: what none can be is told once,
 * and not for every horn. HBK_OK, or HBK_ERR_INPUT with the reason.
 */
enum hbk_status hbk_choose_check(const struct hbk_tune *tune,
                                 struct hbk_faults *faults) HBK_MUST_CHECK;

/* A tune, and how it is to be played, for every horn alike. */
struct hbk_choose_ask {
    const struct hbk_tune *tune;
    /* tempo, from_sounding and moving are asked; no key of it */
    struct hbk_perform_ask perform;
};

/*
 * A horn tried on a part, where it is asked for in the best octave.
 *
 * notes    of the horn, which is borrowed where it is as its player plays it
 * keep     owns what stays in `chosen`, which borrows the tune besides
 * scratch  receives the rest
 * chosen   result; its two names are the caller's to give
 */
enum hbk_status hbk_choose_try(const struct hbk_choose_ask *ask,
                               const struct hbk_notes *notes,
                               struct hbk_arena *keep,
                               struct hbk_arena *scratch,
                               struct hbk_chosen *chosen,
                               struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * The answer from the `n` horns that were tried, which are put in order here:
 * best first; of equal scores fewer cents, then by the words that named them.
 */
struct hbk_choice hbk_choose_from(const struct hbk_choose_ask *ask, size_t n,
                                  struct hbk_chosen horns[]);

#endif
