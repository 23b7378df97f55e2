#ifndef HBK_PASSAGE_FIND_H
#define HBK_PASSAGE_FIND_H

#include "base/status.h"
#include "passage/passage.h"

/*
 * The cheapest fingerings of a whole tune as it is played, in squared cents:
 *
 *   of each note, every time it is played,
 *     cost of the ranking, its cents^2 weighed by hbk_lip_heard(length),
 *     + hbk_unsure_price(), weighed likewise,
 *     + hbk_departure_price() and, without a trill, hbk_held_price(length)
 *       unless it is the usual fingering,
 *     + the price of its trill, if it has one (passage/trill.h);
 *   of each junction, every time it is played,
 *     hbk_pressed_price() of what the hands need in the time there is,
 *     + the same of what the lip needs (passage/lip.h);
 *     to and from grace notes hbk_grace_price() instead, of both;
 *     HBK_PRICE_ONE_SOUND in place of the lip's where two notes would be one.
 *
 * An alternate that leaves a partial for one note and comes back to it
 * (hbk_graph_bar_strays) is no help to anybody, whatever its price: it is
 * barred, and the cheapest way looked for without it, until there is none.
 *
 * In a quick run no alternate is open that is clearly further out of tune than
 * the usual fingering (hbk_graph_bar_in_runs).
 *
 * A written note has one fingering, however often repeats bring it back:
 * that is what can be printed below it. All junctions that it is played in
 * count, so the search weighs its neighbours of every pass together.
 */

/*
 * Finds the passage. Of equally cheap ways the one is taken whose first
 * differing note has the fingering ranked higher.
 *
 * arena   owns the result, which borrows notes, keywork and tune
 *
 * Returns HBK_OK, also when notes are out of reach; HBK_ERR_DOMAIN when the
 * repeats make more than HBK_PASSAGE_PLAYED_MAX notes. `passage` is then
 * untouched.
 */
enum hbk_status hbk_passage_find(const struct hbk_passage_request *request,
                                 struct hbk_arena *arena,
                                 struct hbk_passage *passage) HBK_MUST_CHECK;

#endif
