#ifndef HBK_SHEET_FIT_WORDS_H
#define HBK_SHEET_FIT_WORDS_H

#include "base/arena.h"
#include "notes/fitted.h"

/*
 * What is said of a fit, on paper as on a terminal. Sentences live in the
 * arena and end with a full stop; "" where there is nothing to say.
 */

/* Whether the readings told anything of a value worth showing. */
bool hbk_fit_is_told(const struct hbk_fit_value *value);

/* The values of which the readings tell nothing. */
const char *hbk_fit_words_untold(struct hbk_arena *arena,
                                 const struct hbk_fit_report *report);

/* The pairs of values of which only the effect together is known. */
const char *hbk_fit_words_twins(struct hbk_arena *arena,
                                const struct hbk_fit_report *report);

#endif
