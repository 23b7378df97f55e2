#ifndef HBK_TUNE_MELODY_UNFOLD_H
#define HBK_TUNE_MELODY_UNFOLD_H

#include "tune/melody/tune.h"

/* A tune as it is played: ties merged, repeats followed. */

/* One sounding note, grace note or rest, ties merged, repeats as played. */
struct hbk_tune_played {
    size_t event;             /* the written event that carries a fingering */
    struct hbk_ratio onset;   /* in the played tune */
    struct hbk_ratio length;  /* with all tied pieces; grace note: 0 */
    double onset_s, length_s; /* at the tempo, in seconds */
};

struct hbk_tune_performance {
    size_t n;
    struct hbk_tune_played *items;
    /*
     * Behind those n: what stands in bars that are never played, as if it came
     * last in the order written, so that it can have fingerings too.
     */
    size_t n_unplayed;
    bool tempo_assumed; /* the source says no tempo where the tune begins */
};

/* Whether each bar is in tune->order; in the arena. */
const bool *hbk_tune_played_bars(const struct hbk_tune *tune,
                                 struct hbk_arena *arena);

/*
 * Plays the bars in the order of tune->order.
 *
 * quarters   tempo in quarter notes a minute in place of the written ones,
 *            or NAN for the written ones
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when the order is too long or makes more
 * than 500,000 events or the time does not fit; `out` is then unchanged.
 */
enum hbk_status
hbk_tune_unfold(const struct hbk_tune *tune, double quarters,
                struct hbk_arena *arena,
                struct hbk_tune_performance *out) HBK_MUST_CHECK;

#endif
