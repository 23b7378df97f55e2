#ifndef HBK_NOTES_NOTES_H
#define HBK_NOTES_NOTES_H

#include "horn/hands.h"
#include "notes/mouthpiece.h"
#include "notes/notation.h"
#include "notes/setting.h"

struct hbk_horn;

/*
 * What the solver found: plain results, no methods. Written notes as in
 * music/pitch.h; cents positive when sharp; lengths in metres.
 */

/* Whether a fingering is what players of such a horn are taught first. */
enum hbk_taught {
    HBK_TAUGHT_UNSAID, /* the horn does not tell what is taught for the note,
                          or that cannot be played on it as it stands */
    HBK_TAUGHT_NO,
    HBK_TAUGHT_YES
};

/* What is held of a fingering (notes/verdict.h); more than one may be. */
enum hbk_verdict {
    /* Over 30 cents off, or on a partial to avoid without being taught. */
    HBK_VERDICT_UNRELIABLE = 1 << 0,
    HBK_VERDICT_FREE = 1 << 1, /* speaks freely; only of a bored horn, */
    HBK_VERDICT_CARE = 1 << 2  /* needs care; likewise */
};
enum { HBK_VERDICT_COUNT = 3 };

/* What another fingering is good for; the first that holds. */
enum hbk_use {
    HBK_USE_NONE,          /* nothing honest can be said */
    HBK_USE_AVOID,         /* on a partial that lies badly, and not taught */
    HBK_USE_VENTS,         /* the first with a second key open, for tone */
    HBK_USE_NEARER,        /* nearer in tune than the first choice */
    HBK_USE_AS_FOR,        /* the first choice of a note within a tone */
    HBK_USE_FEWER_FINGERS, /* than the first choice */
    HBK_USE_OTHER_HAND     /* alone, which leaves the usual one free */
};

struct hbk_fingering {
    uint32_t press;     /* controls that fingers press (not the stuck ones) */
    unsigned partial;   /* counted from 1 */
    double hz;          /* as it will sound after tuning, trigger included */
    double cents;       /* from the note at the pitch the horn has */
    double response_db; /* 0 in the length model: it cannot know */
    double cost;        /* of the ranking, in squared cents; less is better */
    double drawn_m;     /* a trigger, as the hand draws it; 0 without */
    enum hbk_taught taught;
    double untaught;  /* of the cost: for leaving what is taught; else 0 */
    unsigned verdict; /* of enum hbk_verdict; 0: neither good nor bad */
    enum hbk_use use; /* HBK_USE_NONE for the first choice and idle ones */
    int as_for;       /* that note, for HBK_USE_AS_FOR; else 0 */
};

/* One written note and how it can be played, best first. */
struct hbk_note {
    int written;
    int sounding;
    double target_hz; /* at the pitch that the horn has */
    size_t n;         /* 0: out of reach */
    const struct hbk_fingering *fingerings;
    /*
     * The same as one of the above with one control more, which changes
     * nothing worth having: of no use for a note alone, but in a run a finger
     * may stay where it is, as on a key under a higher one. Best first.
     */
    size_t n_idle;
    const struct hbk_fingering *idle;
};

/* How the horn was tuned before anything else was looked at. */
struct hbk_tuned {
    int note; /* written tuning note */
    uint32_t press;
    unsigned partial;
    double before_cents; /* of the tuning note, slides as they stand */
    double after_cents;  /* what the slides could not take away */
    /*
     * What is subtracted before anything is judged: after_cents, or 0 when
     * nothing was tuned (raw). Cents are from the notes at pitch_hz.
     */
    double left_cents;
    double pitch_hz;      /* A4 of the pitch that the horn has */
    size_t n_draws;       /* as horn->n_slides */
    const double *draw_m; /* each slide, as the hand draws it from home */
    /*
     * Where valve slides in proportion would be if they went far enough, NAN
     * for main slides; NULL where the setting puts them elsewhere.
     */
    const double *want_m;
    uint32_t bits; /* which tuning bits are in */
    /* What the mouthpiece of the setting does; zero for the horn's own. */
    struct hbk_mouthpiece_change mouthpiece;
};

struct hbk_notes {
    const struct hbk_horn *horn; /* borrowed */
    struct hbk_setting setting;
    int written_c4_sounds;        /* with the crook */
    struct hbk_notation notation; /* how sheets write it for this player */
    struct hbk_tuned tuned;
    int lowest, highest;              /* written compass that was looked at */
    size_t n;                         /* highest - lowest + 1 */
    const struct hbk_note *notes;     /* notes[i].written == lowest + i */
    size_t n_presses;                 /* how many the hands can make */
    struct hbk_finger_prices fingers; /* by which hands were dealt out */
    /* What the file has of the tube: its axis, or half the wave at rest. */
    double rest_m;
    /* Half the wave of the open horn as it is set up; NAN if that is mute. */
    double open_m;
    /*
     * Cents by which each control alone changes the horn at rest, positive
     * upwards; NAN where that is not known. One for each of the horn's.
     */
    const double *effect_cents;
};

/*
 * Whether a written note is an extreme one: among the lowest or the highest
 * sixth of the compass, where tone and endurance give out. The share is our
 * choice, without a source.
 */
bool hbk_notes_extreme(const struct hbk_notes *notes, int written);

/*
 * Whether nobody should learn from its chart: the file says so of the horn,
 * or of the crook that is in.
 */
bool hbk_notes_not_to_learn_from(const struct hbk_notes *notes);

/*
 * From so much on that a horn is off the pitch asked for, every head says it
 * loud: within it the lips make up for it. Our choice, without a source.
 */
#define HBK_REST_ALARM_CENTS 15.0

/* Whether a control is stuck, one way or the other. */
bool hbk_notes_stuck(const struct hbk_notes *notes, size_t control);

/* The entry of a written note, or NULL outside the compass. */
const struct hbk_note *hbk_notes_find(const struct hbk_notes *notes,
                                      int written);

#endif
