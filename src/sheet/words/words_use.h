#ifndef HBK_SHEET_WORDS_WORDS_USE_H
#define HBK_SHEET_WORDS_WORDS_USE_H

#include "notes/notes.h"

struct hbk_arena;

/* How notes speak. */

/*
 * "Speak freely: B3 to D5. Need care: G5 to C6. ": the notes whose first
 * choice is said to. "" for the length model.
 */
const char *hbk_words_response(struct hbk_arena *arena,
                               const struct hbk_notes *notes);

#endif
