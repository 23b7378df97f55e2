#ifndef HBK_SHEET_PRIMER_PRIMER_WORDS_H
#define HBK_SHEET_PRIMER_PRIMER_WORDS_H

#include "notes/notes.h"

/* What a primer says of a horn. Strings live in the arena. */

/*
 * How it works, in five sentences or fewer: what sounds with nothing pressed,
 * what each key or valve does, what they do together, how the same fingers
 * serve again, what the notes are called. From the model, whatever the horn.
 */
const char *hbk_primer_how(struct hbk_arena *arena,
                           const struct hbk_notes *notes);

/* "E♭4 (1-2)". */
const char *hbk_primer_note(struct hbk_arena *arena,
                            const struct hbk_notes *notes, int written);

/* "G4 (0), which a tuner calls F4"; without that where it calls it the same. */
const char *hbk_primer_called(struct hbk_arena *arena,
                              const struct hbk_notes *notes, int written);

/* The figure alone: "1-2"; of a horn without controls "partial 3". */
const char *hbk_primer_figure(struct hbk_arena *arena,
                              const struct hbk_notes *notes, int written);

/* "about 12 cents flat", "in tune" within so many cents. */
#define HBK_PRIMER_IN_TUNE 5.0
const char *hbk_primer_expect(struct hbk_arena *arena, double cents);
/* Both in a sentence, short where there is nothing to do. */
const char *hbk_primer_on_tuner(struct hbk_arena *arena, double cents);
/* What to do about it: "lip up: firmer lips, faster air"; "nothing". */
const char *hbk_primer_correct(double cents);

#endif
