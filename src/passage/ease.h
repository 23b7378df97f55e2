#ifndef HBK_PASSAGE_EASE_H
#define HBK_PASSAGE_EASE_H

#include "notes/notes.h"
#include "passage/move.h"

/*
 * How easily something is played on a horn, by one measure for whatever asks:
 * a scale (passage/scale.h), a part (passage/suit.h). It has three parts, each
 * with what it comes from, and who asks decides what they weigh:
 *
 *   moves      what hands and lip need of the time there is, as a price in
 *              squared cents and as hurry, and what hands find awkward beside
 *              it, with the reasons of passage/move.h;
 *   response   how much of the time sounds on fingerings that need care
 *              (notes/verdict.h);
 *   tuning     the root mean square of the cents, the largest, and what is
 *              left of them beyond what the lip corrects without a thought.
 */

/*
 * A deviation that the lip corrects without a thought: so much of the cents
 * does not count. The fifth partial, 14 cents flat on any tube, is within it,
 * and no player complains of his open E. Our own choice, no source.
 */
#define HBK_EASE_LIP_CENTS 15.0

/* A move counts as hurried from this share of the time it has. Likewise. */
#define HBK_EASE_HURRY_FROM 0.5

/*
 * What an awkward move costs beside its time, in squared cents; less between
 * the hands, which learn to take turns, more where ring or little finger
 * takes part or both thumbs do, much more where the right thumb and a finger
 * of its hand trade places, for that thumb also steadies the horn, and most
 * where a finger must jump or a held key goes over to another finger. Our own
 * choice, no source; the order is that of common practice.
 */
#define HBK_PRICE_AWKWARD 200.0
#define HBK_EASE_HANDS 0.5
#define HBK_EASE_WEAK 0.5     /* more */
#define HBK_EASE_THUMBS 1.0   /* more */
#define HBK_EASE_UNSTEADY 2.5 /* more */
#define HBK_EASE_JUMP 4.0     /* more */

/* A move is awkward for any of these, in either direction. */
#define HBK_EASE_AWKWARD                                                       \
    ((unsigned)HBK_MOVE_JUMPS | (unsigned)HBK_MOVE_SWAPS |                     \
     (unsigned)HBK_MOVE_CROSSED | (unsigned)HBK_MOVE_THUMBS)

/* A move as it is judged. */
struct hbk_ease_move {
    unsigned reasons;   /* of enum hbk_move_reason; 0 if only the time counts */
    double need_s;      /* what hands and lip need */
    double available_s; /* the time there is */
};

/*
 * There and back between two presses with the same fingers, the slower way
 * and the reasons of both; both have one grip at least.
 */
struct hbk_ease_move hbk_ease_between(const struct hbk_keywork *keywork,
                                      const struct hbk_grips *low,
                                      const struct hbk_grips *high,
                                      double available_s);

/* hbk_pressed_price() of the time, and what is awkward; squared cents. */
double hbk_ease_move_price(const struct hbk_ease_move *move);

/*
 * 0 up to HBK_EASE_HURRY_FROM of the time there is, rising evenly to 1 where
 * all of it or more is needed.
 */
double hbk_ease_hurry(const struct hbk_ease_move *move);

/* Sums over what was looked at; begin with all zero. */
struct hbk_ease {
    size_t n_notes;
    double weight; /* of these notes: as long as they sound, or 1 each */
    double squares, beyond; /* of cents, and of those beyond the lip's */
    double care;            /* weight of notes that need care */
    double worst_cents;     /* the largest deviation, with its sign */
    size_t worst;           /* what the caller calls that note */
    size_t n_moves, n_awkward;
    double price, hurry; /* of the moves */
};

/* Adds a note as it is fingered; `which` is what the caller calls it. */
void hbk_ease_add_note(struct hbk_ease *ease,
                       const struct hbk_fingering *fingering, double weight,
                       size_t which);
void hbk_ease_add_move(struct hbk_ease *ease, const struct hbk_ease_move *move);

/* Root mean square of the cents by weight; NAN without a note. */
double hbk_ease_rms_cents(const struct hbk_ease *ease);
/* Share of the weight on notes that need care, 0 to 1; 0 without a note. */
double hbk_ease_care_share(const struct hbk_ease *ease);
/* Mean price of the moves in squared cents; 0 without one. */
double hbk_ease_mean_price(const struct hbk_ease *ease);

#endif
