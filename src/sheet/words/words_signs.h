#ifndef HBK_SHEET_WORDS_WORDS_SIGNS_H
#define HBK_SHEET_WORDS_WORDS_SIGNS_H

#include "notes/notes.h"

/*
 * What the signs of stand chart and card mean, and no more than are in use:
 * "Black: the finger presses; a small ring: it does not. Key 1 (double ring)
 * is open at rest; pressing closes it. ". `out`: whether a dash stands for a
 * note without a fingering.
 */
const char *hbk_words_signs(struct hbk_arena *arena,
                            const struct hbk_notes *notes, bool out);

/*
 * "REVERSED VALVES: valve 1 a semitone, valve 2 a whole tone. " of a horn whose
 * valves 1 and 2 do each other's work; "" for any other.
 */
const char *hbk_words_reversed(struct hbk_arena *arena,
                               const struct hbk_notes *notes);

/*
 * Of a horn that is known by its length alone: "Holes placed by rule, not
 * measured: the tuner decides. "; "" for any other.
 */
const char *hbk_words_unmeasured(struct hbk_arena *arena,
                                 const struct hbk_notes *notes);

/*
 * Keys that more than one finger may work: "Key 5: left thumb or left index
 * finger. "; "" without.
 */
const char *hbk_words_choices(struct hbk_arena *arena,
                              const struct hbk_horn *horn);

#endif
