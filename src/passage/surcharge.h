#ifndef HBK_PASSAGE_SURCHARGE_H
#define HBK_PASSAGE_SURCHARGE_H

#include "notes/notes.h"
#include "passage/move.h"

/*
 * What a passage charges beside the moves, in squared cents; of what the
 * whole price is made up, passage/find.h says.
 */

/*
 * The usual fingering lies in the player's hands, another must be thought
 * of: our own choice, no source. Worth 16 cents, so that quavers at a march's
 * pace, a quarter of a second each, are still played as taught.
 */
#define HBK_PRICE_DEPARTURE 250.0

/*
 * What a passage adds to the cost of the ranking for taking another fingering
 * than the usual one, which is ranked first. The ranking has charged already
 * what is not taught (solve/fingering_prices.h), and that is the same
 * reluctance: so of HBK_PRICE_DEPARTURE only the part is added that leaving
 * the usual fingering has not cost yet, and at least nothing. From a taught
 * fingering to one that is not, that is 0 on valves (250 charged) and on keys
 * (400 charged); between two that are both taught, or both not, all 250.
 */
double hbk_departure_price(const struct hbk_fingering *usual,
                           const struct hbk_fingering *other);

/*
 * Another fingering is for quick notes: who holds a note has time for the
 * usual one, and the quick note beside it may take another instead. So leaving
 * the usual fingering costs beside the above HBK_PRICE_DEPARTURE
 * (length / 0.25 s)^8: as good as nothing in semiquavers at a march's pace,
 * once more the same in its quavers, and from a second on 16,384,000. That is
 * all that hands and lip can ask at both ends of a note, so that a note of a
 * second never leaves it, whatever is beside it. Our own choice, no source. A
 * trill is not held.
 */
#define HBK_HELD_S 0.25
#define HBK_HELD_NEVER_S 1.0
double hbk_held_price(double length_s);

/*
 * On a horn known by its length, only the highest open hole counts, and what
 * the keys below it do is not in the cents: on a real one a further open hole
 * sharpens and a closed one flattens. Each such key counts as 10 cents on
 * which nobody can rely, so that their squares add: our own choice, for what
 * it is on real horns is not known. (Of the horns described by their bore, an
 * ophicleide computes to 3 to 12 cents on its low partials, a bugle to 5 to
 * 40.) 0 on a horn described by its bore, where the cents have it.
 */
#define HBK_UNSURE_CENTS 10.0
double hbk_unsure_price(const struct hbk_keywork *keywork, uint32_t press);

/*
 * A grace note yields: it begins a little sooner or ends a little later when
 * fingers need it, and nobody counts. So its moves are never pressed as
 * those of the beat are. They cost the square of need / time, where the time
 * is at least what an unhurried grace note takes and the need no more than
 * the time. Hands and lip together then never cost more than one departure
 * does, and no long note gives up its usual fingering for the grace note
 * before it. All our own choice, no source.
 */
#define HBK_PRICE_GRACE (HBK_PRICE_DEPARTURE / 2.0)
#define HBK_GRACE_UNHURRIED_S 0.12
double hbk_grace_price(double least_s, double available_s);

/*
 * For two notes in succession on one press and one partial, of which one is as
 * sharp as the other is flat: that is one sound, and no lip bends it there and
 * back.
 */
#define HBK_PRICE_ONE_SOUND 100000.0

/* For a trill to a note out of reach, where another fingering has one. */
#define HBK_PRICE_NO_TRILL 100000.0

#endif
