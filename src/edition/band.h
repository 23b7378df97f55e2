#ifndef HBK_EDITION_BAND_H
#define HBK_EDITION_BAND_H

#include "base/fault.h"
#include "report/pitch.h"
#include "solve/setting.h"

/* Horns that are to play together. */
struct hbk_band_ask {
    size_t n;
    const char *const *words; /* each a horn file or a shipped horn */
    /*
     * How all of them are set, and the pitch; NAN for the common one. Without
     * any temperature it is that of a hall in which nobody is cold: each
     * horn's own would not be one room.
     */
    struct hbk_wishes wishes;
    size_t threads;                        /* as in base/jobs.h */
    void (*done)(void *ctx, size_t count); /* horns read; likewise */
    void *ctx;
};

/* One of the horns, with all that belongs to it. */
struct hbk_band_member {
    const char *word;
    enum hbk_status status; /* HBK_OK when it plays with the others */
    enum hbk_wish unmet;    /* HBK_WISH_ALL, or what this horn cannot meet */
    const char *why;        /* then: what would be right */
    struct hbk_arena arena;
    struct hbk_horn *horn;
    struct hbk_faults faults;
    struct hbk_pitch_member reach;
    struct hbk_pitch_place place; /* at the pitch, when there is one */
};

struct hbk_band {
    size_t n;
    struct hbk_band_member *members; /* in the order of the words */
    struct hbk_pitch_view view;      /* of those that play; with none of them
                                        there is no pitch */
};

/*
 * Reads every horn, finds the pitch and sets the horns to it. A horn that
 * cannot be used is left out, and its member says why.
 *
 * arena   receives what is found
 * band    result; finish it
 */
void hbk_band_gather(const struct hbk_band_ask *ask, struct hbk_arena *arena,
                     struct hbk_band *band);

void hbk_band_finish(struct hbk_band *band);

#endif
