#ifndef HBK_PASSAGE_PASSAGE_H
#define HBK_PASSAGE_PASSAGE_H

#include "passage/candidates.h"
#include "passage/trill.h"
#include "tune/melody/tune.h"

/* A tune with its fingerings: what is asked, and what was found. */

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
    const struct hbk_tune *tune; /* as the horn is written */
    const struct hbk_tune *read; /* as it is named in words; NULL: the same */
    double quarters; /* tempo in quarter notes a minute; NAN: as written */
    bool keep;       /* fingerings that stand in the file are honoured */
    size_t ways;     /* 1 to HBK_PASSAGE_WAYS_MAX */
    int octaves;     /* by which the part was moved; for passage/suit.h alone */
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
    /*
     * Than the one taken, for the whole; 0 at least. What is charged for
     * holding another than the usual one (hbk_held_price) is not in it: that
     * keeps it from being taken, and makes it sound no worse.
     */
    double extra_cost;
};

struct hbk_passage_note {
    size_t event; /* of the tune; a note or a grace note */
    const struct hbk_candidates *candidates;
    size_t taken; /* candidate; 0 is the usual one */
    /* The one taken, then the others that may be, the cheapest first. */
    size_t n_choices;
    const struct hbk_passage_choice *choices;
    size_t times; /* how often it is played; 0 in a bar that never is */
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

/* One of the cheapest ways through the whole; price and held decide. */
struct hbk_passage_way {
    double price;              /* without what is charged for holding, */
    double held;               /* which is this: hbk_held_price() of all */
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

#endif
