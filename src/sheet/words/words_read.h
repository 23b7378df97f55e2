#ifndef HBK_SHEET_WORDS_WORDS_READ_H
#define HBK_SHEET_WORDS_WORDS_READ_H

#include "notes/notes.h"

/*
 * Written notes in words, as whoever reads the sheet reads and names them
 * (notes->notation). Strings live in the arena.
 */

/* "E♭4", one name: the usual one. */
const char *hbk_words_read(struct hbk_arena *arena,
                           const struct hbk_notes *notes, int written);

/* "F♯4 or G♭4", or "F4". */
const char *hbk_words_read_both(struct hbk_arena *arena,
                                const struct hbk_notes *notes, int written);

/* "C♯4 to F♯4, A4": runs of written notes by their usual names. */
const char *hbk_words_read_runs(struct hbk_arena *arena,
                                const struct hbk_notes *notes, size_t n,
                                const int written[]);

/*
 * "Written C sounds B♭, a tone lower" of the C that is read, without the full
 * stop.
 */
const char *hbk_words_read_sounds(struct hbk_arena *arena,
                                  const struct hbk_notes *notes);

/* What a written note of the horn sounds, as hbk_words_sounding() spells it. */
const char *hbk_words_read_sounding(struct hbk_arena *arena,
                                    const struct hbk_notes *notes, int written);

/*
 * The name of a key in the fewest letters, for a label: "D"; for whom that
 * would mislead the note that it gives him, "E" for a player who reads the
 * horn a tone higher.
 */
const char *hbk_words_key_short(struct hbk_arena *arena,
                                const struct hbk_notes *notes, size_t control);

/* "Read in the bass clef. " where --reads asked; else "". */
const char *hbk_words_reads(struct hbk_arena *arena,
                            const struct hbk_notes *notes);

#endif
