#ifndef HBK_PASSAGE_TIMING_H
#define HBK_PASSAGE_TIMING_H

#include "tune/melody/tune.h"
#include "tune/melody/unfold.h"

/* How much time there is from note to note as the tune is played. */

/*
 * A grace note is played before the beat and takes this long, but all those
 * before one note no more than half of what is before them: our own choice,
 * no source.
 */
#define HBK_TIMING_GRACE_S 0.080
#define HBK_TIMING_GRACE_SHARE 0.5

/*
 * How much of the time from one beginning to the next is there for moving:
 * under a slur everything between is heard; after a staccato note, or where
 * one breathes, nothing; a fermata stops the beat. Our own choice, no source.
 */
#define HBK_TIMING_SLURRED 0.85
#define HBK_TIMING_STACCATO 1.15
#define HBK_TIMING_FERMATA 2.00

/* From one note of the tune to the one that is played after it. */
struct hbk_junction {
    size_t from, to; /* events that carry a fingering */
    double available_s;
    double quarters; /* the tempo there, in quarter notes a minute */
    bool slurred;
    bool grace; /* to or from a grace note: quick at any tempo */
};

/* One note each time it is played. */
struct hbk_sounded {
    size_t event;
    double start_s; /* of the tune; below 0 for grace notes before it */
    double length_s;
};

struct hbk_timing {
    size_t n_sounded;
    const struct hbk_sounded *sounded;
    /* From sounded[i] to sounded[i + 1], one less than these. */
    size_t n_junctions;
    const struct hbk_junction *junctions;
};

/*
 * Every note and junction of a performance, in the order played, and then of
 * the bars that are never played. A note of which `sounds` says no is passed
 * over like a rest.
 *
 * quarters   as given to hbk_tune_unfold()
 * sounds     one for each event
 */
struct hbk_timing hbk_timing_of(const struct hbk_tune *tune,
                                const struct hbk_tune_performance *performance,
                                double quarters, const bool sounds[],
                                struct hbk_arena *arena);

#endif
