#ifndef HBK_SHEET_CHART_CARD_WORDS_H
#define HBK_SHEET_CHART_CARD_WORDS_H

#include "sheet/block/hand.h"

#include "notes/notes.h"

/* What a pocket card says, in running text; see also sheet/words/words.h. */

/*
 * Which circle is which finger, from the left: "Left hand: 5 thumb, 6 index.
 * Right hand: ... ". "" without controls.
 */
const char *hbk_card_hands(struct hbk_arena *arena,
                           const struct hbk_notes *notes,
                           const struct hbk_hands *hands);

/* The marks of the card in use: "0: nothing pressed. Filled: pressed. ..." */
const char *hbk_card_signs(struct hbk_arena *arena,
                           const struct hbk_notes *notes);

#endif
