#ifndef HBK_PASSAGE_SCALE_H
#define HBK_PASSAGE_SCALE_H

#include "notes/scales.h"
#include "passage/ease.h"

/*
 * Finds how well each written key suits a horn (notes/scales.h), by the measure
 * of passage/ease.h.
 */

/*
 * How long a note of a scale lasts when its moves are weighed: quavers of
 * 120 crotchets a minute. Our own choice, no source.
 */
#define HBK_SCALE_S 0.250

/*
 * What a note of the scale costs that the horn has not: as much as one that
 * is 60 cents off, the most a player is usually trusted to bend. Our own
 * choice, no source.
 */
#define HBK_PRICE_MISSING 3600.0

/*
 * Judges every key by what the horn can do as it stands: cents are from the
 * pitch it has, and what is stuck is not moved. The price of a key is the mean
 * square of what its first choices deviate beyond HBK_EASE_LIP_CENTS, with
 * HBK_PRICE_MISSING for each note out of reach, and the mean of
 * hbk_ease_move_price() of its moves. The moves are those of the cheapest way
 * through each run, an exact search over all fingerings by their cost and the
 * price of the moves between them; of equal ways the one with the better-ranked
 * fingerings on the later note.
 *
 * Keys of which an octave lies on the horn without a gap stand before all
 * others. Keys of equal price share a place; they are listed by their number
 * of accidentals, major before minor, flats before sharps.
 *
 * Fingers are those by which the notes were found. The arena owns the result,
 * which borrows the notes.
 */
const struct hbk_scales *hbk_scales_of(const struct hbk_notes *notes,
                                       struct hbk_arena *arena);

/* The fingerings of a note that somebody has learned: its first one, others. */
enum { HBK_LEARNED_MOST = 5 };
struct hbk_learned {
    size_t n; /* 0 of a note that is not learned */
    const struct hbk_fingering *of[HBK_LEARNED_MOST]; /* borrowed */
};

/*
 * The same for somebody who has learned some notes: whatever else the horn has
 * is out of his reach.
 *
 * learned   by written note, HBK_NOTE_MAX + 1 of them; NULL for all notes in
 *           every fingering, as above
 */
const struct hbk_scales *hbk_scales_learned(const struct hbk_notes *notes,
                                            const struct hbk_learned learned[],
                                            struct hbk_arena *arena);

#endif
