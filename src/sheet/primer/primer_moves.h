#ifndef HBK_SHEET_PRIMER_PRIMER_MOVES_H
#define HBK_SHEET_PRIMER_PRIMER_MOVES_H

#include "sheet/primer/primer_given.h"

/*
 * Exercises for the notes that lessons have taught, by rule. Tunes are as the
 * horn is written and live in the arena; NULL where the horn has none.
 */

/* A bar up and a bar down for each pair of partials that the same fingers give,
 * no wider than a fifth. */
const struct hbk_tune *hbk_primer_slurs(const struct hbk_primer *primer,
                                        struct hbk_arena *arena);
/* For each note that a key open at rest alone lowers to: the open note above,
 * it, and that note again. */
const struct hbk_tune *hbk_primer_leading(const struct hbk_primer *primer,
                                          struct hbk_arena *arena);
/* Two bars for each of the eight easiest keys. */
const struct hbk_tune *hbk_primer_arpeggios(const struct hbk_primer *primer,
                                            struct hbk_arena *arena);
const struct hbk_tune *hbk_primer_chromatic(const struct hbk_primer *primer,
                                            struct hbk_arena *arena);
/* All notes without sharp or flat, up and down in half notes; of a horn of open
 * notes alone, all. */
const struct hbk_tune *hbk_primer_gamut(const struct hbk_primer *primer,
                                        struct hbk_arena *arena);

/* Two notes, up to a fourth apart, between which the hands find it awkward. */
struct hbk_primer_drill {
    int low, high;      /* written */
    const char *why;    /* what moves */
    const char *tempos; /* "60, 72, 88": quarters of two notes a beat, as far as
                           hands go */
};

/*
 * Those that lessons are about, then others, the most awkward first; each
 * finger change once; in the arena.
 */
const struct hbk_primer_drill *
hbk_primer_drills(const struct hbk_primer *primer, struct hbk_arena *arena,
                  size_t *n);
/* Its two bars. */
const struct hbk_tune *
hbk_primer_drill_tune(const struct hbk_primer *primer,
                      const struct hbk_primer_drill *drill,
                      struct hbk_arena *arena);

#endif
