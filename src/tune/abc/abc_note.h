#ifndef HBK_TUNE_ABC_ABC_NOTE_H
#define HBK_TUNE_ABC_ABC_NOTE_H

#include "tune/abc/abc.h"

/* Notes and rests at `abc->at`. */
void hbk_abc_note(struct hbk_abc *abc);
void hbk_abc_rest(struct hbk_abc *abc);
/*
 * Adds a note, chord or rest of `factor` unit lengths with what was waiting
 * for it: signs, texts, tuplet, broken rhythm.
 */
void hbk_abc_add_timed(struct hbk_abc *abc, struct hbk_tune_event *event,
                       struct hbk_ratio factor);
/* A length at `abc->at`, 1 for none; false with an error recorded. */
bool hbk_abc_length(struct hbk_abc *abc, struct hbk_ratio *factor);

#endif
