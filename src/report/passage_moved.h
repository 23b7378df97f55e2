#ifndef HBK_REPORT_PASSAGE_MOVED_H
#define HBK_REPORT_PASSAGE_MOVED_H

#include "passage/view.h"

/* Where a passage was put, in words; all in the arena. */

/*
 * "The part is moved up by a whole tone for this horn", "... for the player who
 * reads it" where --reads asked; "The part is moved from D to C, a whole tone
 * lower than written", "The part is an octave lower than written"; or both of
 * it. NULL where it stays as it is.
 */
const char *hbk_passage_moved(const struct hbk_passage_view *view,
                              struct hbk_arena *arena);
/*
 * Where octave or key was looked for, what was found and why, as a sentence
 * without its full stop; else NULL.
 */
const char *hbk_passage_chosen(const struct hbk_passage_view *view,
                               struct hbk_arena *arena);
/*
 * "for a horn that reads these notes a whole tone higher", of a file whose
 * notes stay; NULL where they are the horn's own.
 */
const char *hbk_passage_reads(const struct hbk_passage_view *view,
                              struct hbk_arena *arena);

/* "an octave lower", "two octaves higher"; of 0 "as written". */
const char *hbk_octaves_words(int octaves, struct hbk_arena *arena);

/* "D", "B♭ minor", as the player names notes. */
const char *hbk_key_words(const struct hbk_tune_key *key,
                          enum hbk_naming naming, struct hbk_arena *arena);

#endif
