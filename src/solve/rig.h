#ifndef HBK_SOLVE_RIG_H
#define HBK_SOLVE_RIG_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct hbk_horn;
struct hbk_mouthpiece;

/* How the horn is set up before it is played. */
struct hbk_rig {
    double temperature_c;
    int crook; /* index, -1 for none */
    /* 0: the horn's own mouthpiece; i: horn->mouthpieces[i - 1] */
    size_t mouthpiece;
    /* One per horn->slides, as the hand draws from home; NULL: as they stand.
     */
    const double *draw_m;
    uint32_t bits;  /* which tuning bits are in */
    bool as_played; /* with the player's habit (horn/habit.h) on every pitch */
};

/* The mouthpiece that is in. */
const struct hbk_mouthpiece *hbk_rig_mouthpiece(const struct hbk_horn *horn,
                                                const struct hbk_rig *rig);

/*
 * Tube that crook, main slides and bits add to the horn as its file has it,
 * m; below 0 when slides are pushed in from where they stand.
 */
double hbk_rig_added_m(const struct hbk_horn *horn, const struct hbk_rig *rig);

/* Tube that one slide adds to what the file has, m; below 0 when pushed in. */
double hbk_slide_added_m(const struct hbk_horn *horn, const struct hbk_rig *rig,
                         size_t slide);

#endif
