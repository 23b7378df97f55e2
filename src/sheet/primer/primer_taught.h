#ifndef HBK_SHEET_PRIMER_PRIMER_TAUGHT_H
#define HBK_SHEET_PRIMER_PRIMER_TAUGHT_H

#include "sheet/primer/primer_given.h"

/* What a player has by the end of the lessons: nothing else is asked of him. */

/* The first fingering of a note that a lesson has taught; else NULL. */
const struct hbk_fingering *hbk_primer_taught(const struct hbk_primer *primer,
                                              int written);

/*
 * Whether a page may ask for the note: it is taught, or available on a horn
 * that has no lessons.
 */
bool hbk_primer_asks(const struct hbk_primer *primer, int written);

/*
 * The keys with an octave of taught notes: primer->scales, in which no other
 * note is available and no other key has a place. In the arena.
 */
const struct hbk_scales *hbk_primer_keys(const struct hbk_primer *primer,
                                         struct hbk_arena *arena);

/*
 * " Left out are the keys of A♭ major and C minor, which need notes that no
 * lesson has." of the first `most` keys of the horn; "" where all are had.
 */
const char *hbk_primer_keys_left(const struct hbk_primer *primer, size_t most,
                                 struct hbk_arena *arena);

#endif
