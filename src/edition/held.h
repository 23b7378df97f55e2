#ifndef HBK_EDITION_HELD_H
#define HBK_EDITION_HELD_H

#include "base/text.h"
#include "edition/ask.h"
#include "notes/held.h"

/* What is the fault of a request, for those who name options. */
enum hbk_hold_fault { HBK_HOLD_FINE, HBK_HOLD_NOTES, HBK_HOLD_ROOT };

/*
 * Finds the chord that is asked for and puts the fingerings of its notes in
 * order.
 *
 * ask     with notes
 * arena   owns what is found
 * why     receives what would be right, to follow the name of what is at
 *         fault
 */
enum hbk_hold_fault hbk_hold_notes(const struct hbk_hold_ask *ask,
                                   const struct hbk_notes *notes,
                                   struct hbk_arena *arena,
                                   struct hbk_held *held, struct hbk_text *why);

#endif
