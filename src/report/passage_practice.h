#ifndef HBK_REPORT_PASSAGE_PRACTICE_H
#define HBK_REPORT_PASSAGE_PRACTICE_H

#include "passage/practice.h"

/* What is said of the hard places that one practises; all in the arena. */

/* What a sheet or a list of `n` such places is about, or that there is none. */
const char *hbk_practice_said(const struct hbk_passage_view *view, size_t n,
                              struct hbk_arena *arena);

/* "Bars 7 to 9, letter B: playable from about quarter = 92 down" */
const char *hbk_practice_heading(const struct hbk_passage_view *view,
                                 const struct hbk_practice_place *place,
                                 struct hbk_arena *arena);

/*
 * The worst of what is hard there, and its awkward trills, each in the order of
 * the tune; then where the same comes again.
 */
const char *const *hbk_practice_lines(const struct hbk_passage_view *view,
                                      const struct hbk_practice_place *place,
                                      struct hbk_arena *arena, size_t *n);

#endif
