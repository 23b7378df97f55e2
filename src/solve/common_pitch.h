#ifndef HBK_SOLVE_COMMON_PITCH_H
#define HBK_SOLVE_COMMON_PITCH_H

#include "horn/stuck.h"
#include "notes/slides.h"
#include "solve/reach.h"

/*
 * A common pitch for several horns. A horn can be set up in more than one
 * way: as it is, or with a crook or shank that leaves its key as it was
 * (one that lowers it by less than half a semitone, or says so itself).
 */
struct hbk_pitch_setup {
    int crook;         /* -1 for none */
    double lowest_hz;  /* A4 with the slides out and bits in */
    double highest_hz; /* A4 with all home */
    double cents_per_degree;
};

struct hbk_pitch_member {
    const struct hbk_horn *horn; /* borrowed */
    struct hbk_stuck stuck;
    size_t n_setups; /* at least 1; the first without a crook */
    const struct hbk_pitch_setup *setups;
};

/*
 * What one horn reaches at that temperature. With something stuck it is tuned
 * with that, on the tuning note as it still sounds.
 *
 * Errors as hbk_tune_horn(); `member` is then unchanged.
 */
enum hbk_status hbk_pitch_reach(const struct hbk_horn *horn,
                                double temperature_c, struct hbk_stuck stuck,
                                struct hbk_arena *arena,
                                struct hbk_pitch_member *member,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * How far the tuning note of a horn stays from a pitch, cents:
 * sharp where the slides are too short, flat where they are home already; 0
 * within its reach.
 */
double hbk_pitch_error(const struct hbk_pitch_member *member, double a4_hz);

struct hbk_common_pitch {
    double a4_hz;
    double total_cents;    /* sum of the horns' errors, each positive */
    double from_hz, to_hz; /* where all fit; NAN where they never do */
};

/*
 * The pitch with the least sum of errors; of pitches that are equal to a
 * hundredth of a cent the one with the least sum of their squares, which
 * shares what cannot be mended; of those the highest, for which slides are
 * drawn least. Looked for among the ends of the horns' ranges, the standards
 * of music/standard.h and every half hertz between.
 *
 * n   at least 1
 */
struct hbk_common_pitch
hbk_common_pitch_find(size_t n, const struct hbk_pitch_member members[]);

/* The same about a pitch that is given. */
struct hbk_common_pitch
hbk_common_pitch_at(size_t n, const struct hbk_pitch_member members[],
                    double a4_hz);

/* One horn brought to pitch. */
struct hbk_pitch_place {
    int crook;
    struct hbk_tuned tuned; /* what is drawn, and what stays off */
};

/* The setup that comes nearest; of equal ones the first. */
enum hbk_status hbk_pitch_place(const struct hbk_pitch_member *member,
                                double a4_hz, double temperature_c,
                                struct hbk_arena *arena,
                                struct hbk_pitch_place *place,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
