#ifndef HBK_SHEET_WORDS_FIT_NAMES_WORDS_H
#define HBK_SHEET_WORDS_FIT_NAMES_WORDS_H

#include "base/arena.h"
#include "notes/fitted.h"

/* What is said of a fit to the names of keys, on paper as on a terminal. */

struct hbk_horn;

/* That the shape of a horn was fitted to its key names; "" of another. */
const char *hbk_words_named_shape(struct hbk_arena *arena,
                                  const struct hbk_horn *horn);

/* What it was fitted to: "12 readings", "the names of its keys (26 notes)". */
const char *hbk_fit_words_fitted(struct hbk_arena *arena,
                                 const struct hbk_fit_report *report);

/* What there is to count of both: "readings", "names", "notes" of either. */
const char *hbk_fit_words_told_by(const struct hbk_fit_report *report);

/* What one of them is: "reading" or "name". */
const char *hbk_fit_words_evidence(const struct hbk_fit_report *report);

/* How the names stood against wrong ones; "" where none were followed. */
const char *hbk_fit_words_names(struct hbk_arena *arena,
                                const struct hbk_fit_report *report);

#endif
