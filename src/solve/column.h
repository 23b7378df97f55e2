#ifndef HBK_SOLVE_COLUMN_H
#define HBK_SOLVE_COLUMN_H

#include "base/fault.h"
#include "horn/horn.h"

/*
 * The air column of a horn as it lies in the hands: what both models answer.
 * A press here is the set of controls in their pressed state, whether a
 * finger holds them or they are stuck.
 */

/* How the horn is set up before it is played. */
struct hbk_rig {
    double temperature_c;
    int crook; /* index, -1 for none */
    /* One per horn->slides, as the hand draws from home; NULL: as they stand.
     */
    const double *draw_m;
    uint32_t bits; /* which tuning bits are in */
};

/*
 * Behind open holes two maxima, seldom three, claim one number
 * (acoustics/maxima.h). The highest has it, and the next highest stand beside
 * it: which of them is the highest may turn with a hair's breadth of tube.
 */
enum { HBK_CLAIMANTS_MAX = 3 };

struct hbk_claimant {
    double hz; /* 0 for none */
    double response_db;
};

/* One resonance as it sounds. hz is 0 where the partial is not there. */
struct hbk_peak {
    double hz;
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
 * the number may change where the pitch does not; 0 when none lies within a
 * semitone. By length a number is never in doubt.
 */
double hbk_peak_follow(const struct hbk_horn *horn, const struct hbk_peak row[],
                       unsigned partial, double near_hz);

/*
 * The resonances of every press: peaks[i * HBK_PEAK_STRIDE + p] is partial p
 * (from 1) of presses[i]. Triggers count as drawn to their full travel.
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when the geometry cannot be computed;
 * peaks are then untouched and `faults` says why.
 */
enum hbk_status hbk_column_peaks(const struct hbk_horn *horn,
                                 const struct hbk_rig *rig, size_t n,
                                 const uint32_t presses[],
                                 struct hbk_peak *peaks,
                                 struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * Tube that crook, main slides and bits add to the horn as its file has it,
 * m; below 0 when slides are pushed in from where they stand.
 */
double hbk_rig_added_m(const struct hbk_horn *horn, const struct hbk_rig *rig);

/* Tube that one slide adds to what the file has, m; below 0 when pushed in. */
double hbk_slide_added_m(const struct hbk_horn *horn, const struct hbk_rig *rig,
                         size_t slide);

/*
 * Semitones by which the uppermost open hole raises the horn above its state
 * at rest; 0 when that hole stands open at rest, or there is none.
 */
double hbk_column_raise(const struct hbk_horn *horn, uint32_t press);

#endif
