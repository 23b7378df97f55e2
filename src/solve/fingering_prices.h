#ifndef HBK_SOLVE_FINGERING_PRICES_H
#define HBK_SOLVE_FINGERING_PRICES_H

#include "horn/hands.h"

/*
 * What makes a fingering better than another, as one price in squared cents:
 *
 *   cost = cents^2 + fingers + raise + partial + response + untaught
 *
 * Squared, because an error that nobody hears should cost next to nothing
 * and one that everybody hears should outweigh any convenience. Every other
 * term is stated by the deviation it is worth.
 */

/* One finger more is worth 12 cents: less than the 14 of a fifth partial. */
#define HBK_PRICE_FINGER 145.0

/*
 * The ring finger is worth 15 cents: it is slower than index and middle
 * (Aoki, Furuya and Kinoshita 2005, Motor Control 9, from the abstract), so
 * two good fingers are rather taken than ring finger alone, as 1-2 is taught
 * before 3 (common practice, no source).
 */
#define HBK_PRICE_RING_FINGER 240.0

/*
 * Each semitone by which the uppermost open key shortens the tube: the hole
 * is smaller and nearer the player, and the note leaves the bell out, so it
 * sounds less like its neighbours (common practice, no source). Worth 4 cents
 * for one semitone, 14 for ten.
 */
#define HBK_PRICE_SEMITONE 19.0

/*
 * A partial players avoid is used only where nothing else comes within 30
 * cents, which is as far as the seventh lies from its note.
 */
#define HBK_PRICE_AVOIDED_PARTIAL 900.0

/*
 * Each decibel that a note answers less readily than a free one: a fingering
 * 12 dB weaker is worth as much as one more finger. Only where the bore is
 * known; the length model cannot tell notes apart and charges nothing.
 */
#define HBK_PRICE_DECIBEL 12.0
#define HBK_RESPONSE_FREE_DB 40.0

/*
 * Leaving what is taught (solve/taught.h): what lies in the hands leads unless
 * it is clearly worse. On valves worth 16 cents, as much as leaving the usual
 * fingering in a passage: 1-2 and 3 differ by 11 cents where every loop is
 * exact, 5 on four valves, and 15 is where a horn known by its bore alone
 * begins to be fingered as taught. On keys worth 20: there the computed holes
 * are less sure than the maker's own names for them, and between 15 and 25
 * cents nothing much changes. Our own choice, tried on every shipped horn.
 * Nothing is charged where what is taught cannot be played at all.
 */
#define HBK_PRICE_UNTAUGHT_VALVES 250.0
#define HBK_PRICE_UNTAUGHT_KEYS 400.0

/*
 * A partial to avoid that is not taught costs at least so much more than what
 * is taught, where that lies within HBK_LIP_CENTS: it does not lead, however
 * near it is. A player who owns such a horn lips the fingering that is in the
 * hands before trusting a partial that every tutor warns of. Our own choice:
 * of all shipped horns only cornets with a slide pulled for A flat or A, whose
 * octaves come out wide, are fingered otherwise for it.
 */
#define HBK_PRICE_BEHIND_TAUGHT 1.0

/* The price of each finger, for hbk_hands_assign(). */
struct hbk_finger_prices hbk_ranking_fingers(void);

#endif
