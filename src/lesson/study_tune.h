#ifndef HBK_LESSON_STUDY_TUNE_H
#define HBK_LESSON_STUDY_TUNE_H

#include "lesson/study_line.h"

/* Lines and long notes as tunes, for whoever engraves or fingers them. */

/* The line as a tune of its own, in a signature of the horn's writing. */
const struct hbk_tune *hbk_line_tune(const struct hbk_line *line, int fifths,
                                     enum hbk_clef clef,
                                     struct hbk_arena *arena);

/*
 * Two bars of long notes on each of n written notes: a whole note, and a half
 * with its rest, in 4/4 without a signature.
 */
const struct hbk_tune *hbk_long_notes(const struct hbk_spelling notes[],
                                      size_t n, enum hbk_clef clef,
                                      struct hbk_arena *arena);

#endif
