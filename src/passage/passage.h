#ifndef HBK_PASSAGE_PASSAGE_H
#define HBK_PASSAGE_PASSAGE_H

#include "base/status.h"
#include "passage/candidates.h"
#include "passage/trill.h"
#include "tune/melody/tune.h"

/*
 * The cheapest fingerings of a whole tune as it is played, in squared cents:
 *
 *   of each note, every time it is played,
 *     cost of the ranking, its cents^2 weighed by hbk_lip_heard(length),
 *     + hbk_departure_price() unless it is the usual fingering,
 *     + the price of its trill, if it has one (passage/trill.h);
 *   of each junction, every time it is played,
 *     hbk_pressed_price() of what the hands need in the time there is,
 *     + the same of what the lip needs (passage/lip.h);
 *     to and from grace notes hbk_grace_price() instead, of both.
 *
 * A written note has one fingering, however often repeats bring it back:
 * that is what can be printed below it. All junctions that it is played in
 * count, so the search weighs its neighbours of every pass together.
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
 * what is not taught (solve/ranking.h), and that is the same reluctance: so of
 * HBK_PRICE_DEPARTURE only the part is added that leaving the usual fingering
 * has not cost yet, and at least nothing. From a taught fingering to one that
 * is not, that is 0 on valves (250 charged) and on keys (400 charged); between
 * two that are both taught, or both not, all 250.
 */
double hbk_departure_price(const struct hbk_fingering *usual,
                           const struct hbk_fingering *other);

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

/* For a trill to a note out of reach, where another fingering has one. */
#define HBK_PRICE_NO_TRILL 100000.0

/*
 * A place is called hard when hands or lip need so many times the time there
 * is. The needs are estimates, and careful ones: chromatic semiquavers under
 * a slur need up to 1.1 times what a cornet player has at a quarter note =
 * 120, where practised players do them as a matter of course (from memory).
 * The margin is our own choice; with it they are called hard from 135 on.
 */
#define HBK_PASSAGE_HARD 1.25

enum {
    HBK_PASSAGE_WAYS_MAX = 9,
    HBK_PASSAGE_PLAYED_MAX = 200000 /* notes and rests with all repeats */
};

struct hbk_passage_request {
    const struct hbk_notes *notes;
    const struct hbk_keywork *keywork;
    const struct hbk_tune *tune;
    double quarters; /* tempo in quarter notes a minute; NAN: as written */
    bool keep;       /* fingerings that stand in the file are honoured */
    size_t ways;     /* 1 to HBK_PASSAGE_WAYS_MAX */
};

/* What became of a fingering that stood in the file. */
enum hbk_passage_kept {
    HBK_PASSAGE_FREE,      /* there was none, or it was not to be kept */
    HBK_PASSAGE_KEPT,      /* honoured */
    HBK_PASSAGE_UNKNOWN,   /* names no press of this horn; chosen anew */
    HBK_PASSAGE_UNPLAYABLE /* does not give this note here; chosen anew */
};

/* A fingering of one note while all others stay as they are taken. */
struct hbk_passage_choice {
    size_t candidate;
    double dearer; /* than the one taken, for the whole */
};

struct hbk_passage_note {
    size_t event; /* of the tune; a note or a grace note */
    const struct hbk_candidates *candidates;
    size_t taken; /* candidate; 0 is the usual one */
    /* The one taken, then the others that may be, the cheapest first. */
    size_t n_choices;
    const struct hbk_passage_choice *choices;
    size_t times; /* how often it is played */
    enum hbk_passage_kept kept;
    bool wants_trill;
    struct hbk_trill trill; /* kind HBK_TRILL_NONE where there is none */
    const char *why;        /* why it is not the usual one; NULL if it is */
    /*
     * The tightest junction that leads to it: the note before, what hands
     * and lip need and the time there is. HBK_TUNE_NONE for none.
     */
    size_t before; /* index into the notes of the passage */
    double hands_s, lip_s, available_s;
    /*
     * Where the place is hard (HBK_PASSAGE_HARD): the tempo from which down
     * it is not, in quarter notes a minute; else 0. Never for grace notes,
     * which are quick at any tempo.
     */
    double playable_quarters;
    double quarters; /* the tempo there */
};

/* One of the cheapest ways through the whole. */
struct hbk_passage_way {
    double price;              /* the cheapest one's and what it has more */
    const unsigned char *pick; /* candidate of each note of the passage */
};

struct hbk_passage {
    size_t n;
    struct hbk_passage_note *notes; /* in written order */
    size_t *note_of;   /* of each event: index into notes, or HBK_TUNE_NONE */
    size_t n_out;      /* written notes out of reach */
    const size_t *out; /* their events, in order */
    size_t n_ways;     /* ways[0] is taken */
    const struct hbk_passage_way *ways;
    size_t n_departures, n_hard;
    bool tempo_assumed; /* neither the tune nor the user says one */
    bool exact;         /* see passage/lattice.h */
};

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
