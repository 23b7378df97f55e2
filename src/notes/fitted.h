#ifndef HBK_NOTES_FITTED_H
#define HBK_NOTES_FITTED_H

#include "horn/readings.h"
#include "notes/notes.h"

/*
 * What a fit of a horn to tuner readings found, as plain results. Cents are
 * positive when sharp; uncertainties are one standard deviation.
 */

enum hbk_fit_state {
    HBK_FIT_USED,
    HBK_FIT_SLIPPED, /* contradicts the others: not followed */
    HBK_FIT_FAR      /* belongs to no partial of its fingering: not used */
};

struct hbk_fit_reading {
    const struct hbk_reading *reading;
    enum hbk_fit_state state;
    int written;
    uint32_t press;
    unsigned partial;
    double before_cents; /* what the file says of that note */
    double after_cents; /* what the fitted horn says, as this player plays it */
    double horn_cents;  /* the same of the horn alone, without the player */
    /*
     * What was heard less what the horn fitted to all other readings says;
     * of a reading that was not used, less what the fitted horn says.
     */
    double alone_cents;
    double alone_sd;   /* how far that may lie off by chance */
    int semitones_off; /* of a slip: +1 or -1 if that explains it, else 0 */
    /*
     * The lowest control that no other used reading presses, so that nothing
     * could contradict this one; -1 when there is none.
     */
    int alone_on;
    /* By length: no other used reading is on its partial, which is its own. */
    bool is_alone_on_partial;
};

/* What a value is of, where there is a question to ask when it moves far. */
enum hbk_fit_part {
    HBK_FIT_PART_OTHER,
    HBK_FIT_PART_LOOP,
    HBK_FIT_PART_CUP,
    HBK_FIT_PART_FLARE,
    HBK_FIT_PART_SHAPE, /* a wave of the bore, one of several */
    HBK_FIT_PART_STEP,  /* what a key raises by, of a horn by length */
    HBK_FIT_PART_HOLE,  /* how wide a hole opens */
    HBK_FIT_PART_PLACE  /* where a hole is */
};

/* One number of the horn file. */
struct hbk_fit_value {
    const char *what; /* "loop of valve 1" */
    const char *unit;
    int decimals;
    double before, before_sd;
    double after, after_sd;
    size_t n_readings; /* used readings that bear on it */
    /*
     * 1 - (after_sd / before_sd)^2: 0 when the readings tell nothing of it.
     */
    double learned;
    enum hbk_fit_part part;
    double moved; /* in standard deviations of what was known before */
    /*
     * It lies so far from its file that the readings agree only without what
     * was known before; what was learned is counted without that, too.
     */
    bool is_let_go;
    bool is_players; /* of who plays the horn and not of the horn */
    /* Another value that the readings cannot tell from it; -1 for none. */
    int twin;
};

/* A note worth reading next. */
struct hbk_fit_next {
    int written;
    uint32_t press;
    unsigned partial;
    double cents;    /* as predicted, tuned */
    double cents_sd; /* how surely, now */
    double gain;     /* share by which the mean variance of all notes falls */
    double notes_sd; /* of the notes once it and those before it are read */
};

/* A note of the compass with its best fingering. */
struct hbk_fit_note {
    int written;
    uint32_t press;
    unsigned partial;
    double sd; /* how surely it is known, tuned, of the horn alone; cents */
};

enum { HBK_FIT_NEXT_MAX = 5 };

/* From so many on the mean error of those left out is known to a third. */
enum { HBK_FIT_JUDGED_LEAST = 5 };

/*
 * What the names of keys have to do with a fit. The sums are those of squares
 * that a fit makes least: with the names as they are, and with all notes of
 * keys that are shut at rest a semitone higher or lower.
 */
struct hbk_fit_names {
    size_t n;      /* notes named, the first of all readings; 0 without */
    size_t n_used; /* of them */
    double cents;  /* how near a key is held to come to its note */
    double sum, sum_higher, sum_lower;
};

struct hbk_fit_report {
    struct hbk_fit_names names;
    const struct hbk_horn *horn;         /* as it was; borrowed */
    const struct hbk_readings *readings; /* borrowed */
    size_t n;                            /* as readings->n */
    const struct hbk_fit_reading *items;
    size_t n_used;
    size_t n_values;
    const struct hbk_fit_value *values;
    size_t n_next;
    struct hbk_fit_next next[HBK_FIT_NEXT_MAX]; /* best first */
    /* Of the used readings of a tuner, or of the names where those are all: */
    size_t n_judged;    /* how many */
    double before_rms;  /* from the file's horn */
    double before_mean; /* the overall part of it */
    double after_rms;   /* from the fitted horn */
    double alone_rms;   /* each left out in turn, from the fit to the others */
    /* Expected error of the notes of the compass, best fingerings. */
    double notes_sd_before, notes_sd_after;
    /*
     * Error to expect of a note that was not read: what leaving out says, but
     * no less than how surely the notes are known.
     */
    double unread_cents;
    size_t n_notes; /* without the note it is tuned on, which is so by tuning */
    const struct hbk_fit_note *notes;
    /*
     * How many times as far as they state the readings are taken to scatter;
     * every uncertainty here follows it. Whether more than chance would do.
     */
    double scatter;
    bool is_scattered;
    double model_cents; /* how far the column model itself is trusted */
};

#endif
