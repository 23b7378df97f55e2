#ifndef HBK_PASSAGE_SCALE_H
#define HBK_PASSAGE_SCALE_H

#include "notes/scales.h"
#include "passage/move.h"

/* Finds how well each written key suits a horn: see notes/scales.h. */

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
 * A deviation that the lip corrects without a thought: so much of the cents
 * of a first choice does not count. The fifth partial, 14 cents flat on any
 * tube, is within it, and no player complains of his open E. Our own choice,
 * no source.
 */
#define HBK_SCALE_LIP_CENTS 15.0

/*
 * What an awkward move costs beside its time, in squared cents; less between
 * the hands, which learn to take turns, more where ring or little finger
 * takes part or both thumbs do, much more where the right thumb and a finger
 * of its hand trade places, for that thumb also steadies the horn, and most
 * where a finger must jump or a held key goes over to another finger. Our own
 * choice, no source; the order is that of common practice.
 */
#define HBK_PRICE_AWKWARD 200.0
#define HBK_SCALE_HANDS 0.5
#define HBK_SCALE_WEAK 0.5     /* more */
#define HBK_SCALE_THUMBS 1.0   /* more */
#define HBK_SCALE_UNSTEADY 2.5 /* more */
#define HBK_SCALE_JUMP 4.0     /* more */

/* A move is awkward for any of these, in either direction. */
#define HBK_SCALE_AWKWARD                                                      \
    ((unsigned)HBK_MOVE_JUMPS | (unsigned)HBK_MOVE_SWAPS |                     \
     (unsigned)HBK_MOVE_CROSSED | (unsigned)HBK_MOVE_THUMBS)

/*
 * Judges every key by what the horn can do as it stands: cents are from the
 * pitch it has, and what is stuck is not moved. The price of a key is the mean
 * square of what its first choices deviate beyond HBK_SCALE_LIP_CENTS, with
 * HBK_PRICE_MISSING for each note out of reach, and the mean of
 * hbk_scale_move_price() of its moves. The moves are those of the cheapest way
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

/* What a move costs in a scale, in squared cents. */
double hbk_scale_move_price(const struct hbk_scale_move *move);

#endif
