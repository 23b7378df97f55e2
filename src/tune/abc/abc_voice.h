#ifndef HBK_TUNE_ABC_ABC_VOICE_H
#define HBK_TUNE_ABC_ABC_VOICE_H

#include "tune/abc/abc.h"

/*
 * The voice at hand. While a tune is read its events hold all chords and
 * overlays: the notes of a chord one after the other, and the voices of a bar
 * likewise. hbk_abc_line() then leaves the line that is asked for.
 */

/* Appends an event to the voice at hand. */
bool hbk_abc_add(struct hbk_abc *abc, struct hbk_tune_event event);
/* One note of the chord that is open, with the factor of its length. */
void hbk_abc_chord_note(struct hbk_abc *abc, struct hbk_tune_event event,
                        struct hbk_ratio factor);
/* A bar opens: its first voice goes on from the bar before. */
void hbk_abc_first_layer(struct hbk_abc *abc);

/*
 * The notes before that are tied on to where the tune is, one after the other:
 * the one after event `after`, the first for HBK_TUNE_NONE; HBK_TUNE_NONE when
 * there are no more.
 */
size_t hbk_abc_tied(const struct hbk_abc *abc, size_t after);

#endif
