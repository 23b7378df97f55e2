#ifndef HBK_HORN_READINGS_H
#define HBK_HORN_READINGS_H

#include "base/arena.h"
#include "base/fault.h"

/*
 * What a player wrote down while a tuner listened: plain structs, not yet
 * tied to a horn (controls, slides, crooks and mouthpieces are still names).
 * Lengths in metres, cents positive when sharp.
 */

/* A slide as it was drawn. */
struct hbk_reading_draw {
    const char *slide;
    double draw_m; /* as the hand draws it */
    struct hbk_place place;
};

enum { HBK_READING_BITS_MAX = 32 };

/* How the horn was set up. */
struct hbk_reading_set {
    const char *crook; /* NULL for none */
    struct hbk_place crook_place;
    const char *mouthpiece; /* of the horn's file; NULL for the horn's own */
    struct hbk_place mouthpiece_place;
    size_t n_draws; /* slides that are not named were as they stand */
    const struct hbk_reading_draw *draws;
    size_t n_bits; /* tuning bits that were in, counted from 1 */
    unsigned bits[HBK_READING_BITS_MAX];
    struct hbk_place bits_place;
    const char *stuck; /* as horn/stuck_list.h, over the horn file; or NULL */
    bool none_stuck;   /* nothing was, whatever the horn file says */
    struct hbk_place stuck_place;
};

struct hbk_reading {
    struct hbk_place place;
    int note;                 /* written; the note the player meant */
    const char *fingering;    /* as written: "0", "1-3" */
    struct hbk_place press;   /* where the fingering stands */
    unsigned partial;         /* 0: not stated, the nearest is taken */
    double cents;             /* from the note at a4_hz in equal temperament */
    double uncertainty_cents; /* one standard deviation, > 0 */
    double a4_hz;
    double temperature_c;
    const struct hbk_reading_set *set; /* never NULL */
    bool is_name; /* nobody read it: so a key of the horn is called */
};

/* How far one reading of a tuner is trusted unless the file says. */
#define HBK_READING_UNCERTAINTY_CENTS 5.0

enum { HBK_READINGS_MAX = 1000 };

struct hbk_readings {
    struct hbk_arena arena; /* owns every string and array below */
    const char *path;
    const char *source;     /* who, when, with what; or NULL */
    const char *mouthpiece; /* as a remark, or NULL */
    /*
     * The sounding note that the notes of the file call C4, so that C4 is
     * what the tuner shows; without it notes are written as for the horn.
     */
    bool has_written_c4;
    int written_c4_sounds;
    size_t n; /* 1 to HBK_READINGS_MAX */
    const struct hbk_reading *readings;
};

/* Releases the arena. A zeroed struct is fine. */
void hbk_readings_finish(struct hbk_readings *readings);

#endif
