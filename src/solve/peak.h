#ifndef HBK_SOLVE_PEAK_H
#define HBK_SOLVE_PEAK_H

#include "horn/partials.h"

#include <stdbool.h>
#include <stddef.h>

struct hbk_horn;

/* What a column model answers: the resonances of a press, by their numbers. */

/*
 * Behind open holes two maxima, seldom three, claim one number
 * (acoustics/maxima.h). The highest has it, and the next highest stand beside
 * it: which of them is the highest may turn with a hair's breadth of tube.
 */
enum { HBK_CLAIMANTS_MAX = 3 };

struct hbk_claimant {
    double hz;         /* 0 for none */
    double maximum_hz; /* see struct hbk_peak */
    double response_db;
};

/*
 * One resonance as it is heard. hz is 0 where the partial is not there. On a
 * bored horn the maximum of the impedance lies at maximum_hz: it moves smoothly
 * with the tube, where what is heard may go from one hump to another
 * (acoustics/ear.h). By length both are the same. Of a horn as it is played
 * (solve/rig.h) the player's habit is on both.
 */
struct hbk_peak {
    double hz;
    double maximum_hz;
    double response_db;
    struct hbk_claimant others[HBK_CLAIMANTS_MAX - 1]; /* by falling height */
};

enum { HBK_PEAK_STRIDE = HBK_PARTIALS_MAX + 1 };

/* Hz of claimant k of a number, the highest being 0; 0 where there is none. */
double hbk_peak_claimant_hz(const struct hbk_peak *peak, size_t k);

/*
 * Of a press that was followed while the horn was changed a little: the Hz of
 * a resonance that sounded at near_hz with the number `partial`. On a bored
 * horn it is the nearest of all that claim this number or one next to it, since
 * the number may change where the pitch does not; 0 when none lies within 150
 * cents. By length a number is never in doubt.
 */
double hbk_peak_follow(const struct hbk_horn *horn, const struct hbk_peak row[],
                       unsigned partial, double near_hz);

/* A resonance: as it is heard and where its maximum lies; 0 for none. */
struct hbk_sound {
    double hz, maximum_hz;
};

/* The same with both; near_hz is that of the maximum if by_maximum. */
struct hbk_sound hbk_peak_find(const struct hbk_horn *horn,
                               const struct hbk_peak row[], unsigned partial,
                               double near_hz, bool by_maximum);

/* Both of claimant k of a number. */
struct hbk_sound hbk_peak_claimant(const struct hbk_peak *peak, size_t k);

#endif
