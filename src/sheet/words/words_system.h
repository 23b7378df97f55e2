#ifndef HBK_SHEET_WORDS_WORDS_SYSTEM_H
#define HBK_SHEET_WORDS_WORDS_SYSTEM_H

#include "notes/notes.h"

struct hbk_arena;

/* How a horn works, and what each of its controls does. */

/* How the horn works: its keys and valves, and what sets them apart. */
const char *hbk_words_system(struct hbk_arena *arena,
                             const struct hbk_notes *notes);

/* Loops that valves bring in only together; "" where there are none. */
const char *hbk_words_compensation(struct hbk_arena *arena,
                                   const struct hbk_notes *notes);

/* Whether what a control does (effect_cents) is an interval, to 25 cents. */
bool hbk_effect_is_interval(const struct hbk_notes *notes, size_t control);

/*
 * "lowers a tone", "open at rest; pressed, it lowers a semitone", "opens two
 * holes; ..."; "raises about 150 cents" for what is no interval.
 */
const char *hbk_words_effect(struct hbk_arena *arena,
                             const struct hbk_notes *notes, size_t control);

/*
 * How far a control raises or lowers, and nothing else: "a tone", "about 150
 * cents"; "" where that cannot be said.
 */
const char *hbk_words_effect_size(struct hbk_arena *arena,
                                  const struct hbk_notes *notes,
                                  size_t control);

/* "rotary valve"; "valve" where the action is not known. */
const char *hbk_words_action(enum hbk_action action);

#endif
