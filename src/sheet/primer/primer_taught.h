#ifndef HBK_SHEET_PRIMER_PRIMER_TAUGHT_H
#define HBK_SHEET_PRIMER_PRIMER_TAUGHT_H

#include "lesson/pupil.h"
#include "sheet/primer/primer_given.h"

/* What a player has by the end of the lessons: nothing else is asked of him. */

/* The first fingering of a note that a lesson has taught; else NULL. */
const struct hbk_fingering *hbk_primer_taught(const struct hbk_primer *primer,
                                              int written);

/*
 * How a note is taken next to another: so that a finger stays down, if a lesson
 * has told of that step or of one with the same fingers; else by its first
 * fingering. Both notes have one.
 */
const struct hbk_fingering *hbk_primer_way(const struct hbk_primer *primer,
                                           const struct hbk_pupil *pupil,
                                           int written, int other);

/* How its lesson spells it, as the horn is written; as usual without one. */
struct hbk_spelling hbk_primer_spelling(const struct hbk_primer *primer,
                                        int written);

/*
 * Whether a page may ask for the note: it is taught, or available on a horn
 * that has no lessons.
 */
bool hbk_primer_asks(const struct hbk_primer *primer, int written);

/*
 * The keys that are written out: scales in which every note is taken as it was
 * taught, with a finger that stays down where a lesson told so. A key is had
 * where an octave of it can be played from its tonic; else from its fifth or
 * third. Six major keys are chosen, those first in which lessons and tunes are,
 * then those that have the fewest sharps or flats for whoever reads them; then
 * two minor keys by their sharps and flats; more of one mode where the other
 * has fewer. In the arena; ->order has n_placed keys, majors before minors, the
 * fewest signs first.
 */
enum { HBK_PRIMER_KEYS = 8 };
const struct hbk_scales *hbk_primer_keys(const struct hbk_primer *primer,
                                         struct hbk_arena *arena);

#endif
