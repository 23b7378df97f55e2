#ifndef HBK_SHEET_WORDS_WORDS_USE_H
#define HBK_SHEET_WORDS_WORDS_USE_H

#include "notes/notes.h"

struct hbk_arena;

/* What fingerings are good for. */

/*
 * What a fingering is good for beside the first choice, or "": "avoid",
 * "truer", "as for E♭" (no finger moves to or from that neighbour), "fewer
 * fingers", "other hand".
 */
const char *hbk_words_use(struct hbk_arena *arena,
                          const struct hbk_fingering *fingering);
/* The same, "as for E♭" by the note that its player reads for it. */
const char *hbk_words_use_read(struct hbk_arena *arena,
                               const struct hbk_notes *notes,
                               const struct hbk_fingering *fingering);

/*
 * "Speak freely: B3 to D5. Need care: G5 to C6. ": the notes whose first
 * choice is said to. "" for the length model.
 */
const char *hbk_words_response(struct hbk_arena *arena,
                               const struct hbk_notes *notes);

#endif
