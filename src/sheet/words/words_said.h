#ifndef HBK_SHEET_WORDS_WORDS_SAID_H
#define HBK_SHEET_WORDS_WORDS_SAID_H

#include "notes/notes.h"

/*
 * Notes and fingerings as they are read out: without a sign that a voice
 * leaves out. Strings live in the arena; notes as whoever reads the sheet
 * reads and names them (notes->notation).
 */

/* "B4", "F sharp 4 or G flat 4". */
const char *hbk_words_said_note(struct hbk_arena *arena,
                                const struct hbk_notes *notes, int written);

/* Any text with its sharps and flats in words: "B flat". */
const char *hbk_words_said(struct hbk_arena *arena, const char *text);

/*
 * "1-3", "open", "partial 3" of a horn without keys or valves; with what a
 * trigger does, "1-3, slide of valve 3: pull 18 mm".
 */
const char *hbk_words_said_fingering(struct hbk_arena *arena,
                                     const struct hbk_notes *notes,
                                     const struct hbk_fingering *fingering);

/* "in tune", "12 cents flat, lip up", "1 cent sharp". */
const char *hbk_words_said_cents(struct hbk_arena *arena, double cents);

/* The same of a fingering, and whether it is unreliable: "in tune", "12 cents
 * flat, lip up", "35 cents sharp, lip down, unreliable". */
const char *hbk_words_said_tuning(struct hbk_arena *arena,
                                  const struct hbk_fingering *fingering);

/*
 * The fingerings after the first, up to `most`: "2-3, 12 cents sharp, lip
 * down; 1-2-3, in tune", or "none".
 */
const char *hbk_words_said_others(struct hbk_arena *arena,
                                  const struct hbk_notes *notes,
                                  const struct hbk_note *note, size_t most);

/*
 * The keys, valves and triggers from the mouthpiece to the bell, with their
 * fingers: "key 6, left index finger; key 1, right little finger, open at
 * rest". "" without any. With notes (else NULL) also what is stuck.
 */
const char *hbk_words_said_controls(struct hbk_arena *arena,
                                    const struct hbk_horn *horn,
                                    const struct hbk_notes *notes);

#endif
