#ifndef HBK_SHEET_WORDS_WORDS_BESIDE_H
#define HBK_SHEET_WORDS_WORDS_BESIDE_H

#include "notes/beside.h"

/*
 * What changes for a player of one horn who takes up another: which notes
 * keep their fingering, which keys and valves do something else or lie under
 * other fingers (notes/beside.h), and how the same written note sounds.
 */

/*
 * "Of the 31 written notes that both horns reach, 3 keep their fingering and
 * 28 change.", which keep only the numbers, and what is new or out of reach.
 */
const char *hbk_beside_summary(struct hbk_arena *arena,
                               const struct hbk_notes *here,
                               const struct hbk_notes *known);

/* What the same written note sounds, and in which clefs they are read. */
const char *hbk_beside_sounds(struct hbk_arena *arena,
                              const struct hbk_notes *here,
                              const struct hbk_notes *known);

/*
 * The danger that no player sees coming: valves that look alike and do
 * each other's work. "" where it is not so.
 */
const char *hbk_beside_warning(struct hbk_arena *arena,
                               const struct hbk_notes *here,
                               const struct hbk_notes *known);

/*
 * One line for each key or valve that does something else, lies under
 * another finger, is new or missing; joined by newlines, "" for none.
 */
const char *hbk_beside_controls(struct hbk_arena *arena,
                                const struct hbk_notes *here,
                                const struct hbk_notes *known);

#endif
