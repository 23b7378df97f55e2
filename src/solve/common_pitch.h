#ifndef HBK_SOLVE_COMMON_PITCH_H
#define HBK_SOLVE_COMMON_PITCH_H

#include "base/status.h"
#include "music/standard.h"
#include "notes/slides.h"
#include "solve/reach.h"

struct hbk_faults;

/*
 * A common pitch for several horns. A horn can be set up in more than one
 * way: as it is, or with a crook or shank that leaves its key as it was
 * (one that lowers it by less than half a semitone, or says so itself).
 */
struct hbk_pitch_setup {
    int crook; /* -1 for none */
    struct hbk_reach reach;
};

struct hbk_pitch_member {
    const struct hbk_horn *horn; /* borrowed */
    struct hbk_setting setting;  /* but for A4 and crook */
    size_t n_setups;             /* at least 1; the first without a crook */
    const struct hbk_pitch_setup *setups;
};

/*
 * What one horn reaches.
 *
 * setting   temperature, what is stuck, valve slides; controls that are stuck
 *           leave the tuning where it was before (solve/tuning.h)
 *
 * Errors as hbk_tune_horn(); `member` is then unchanged.
 */
enum hbk_status hbk_pitch_reach(const struct hbk_horn *horn,
                                const struct hbk_setting *setting,
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
    const struct hbk_standard *named; /* the standard that this is, or NULL */
    double total_cents;    /* sum of the horns' errors, each positive */
    double from_hz, to_hz; /* where all fit; NAN where they never do */
};

/*
 * What a named pitch may cost any of the horns, in cents off or in cents by
 * which its slide comes nearer to its end than it should. Nobody hears one
 * cent, and a band agrees more easily on a pitch that has a name. Our own
 * choice.
 */
#define HBK_PITCH_NAMED_CENTS 1.0

/*
 * The pitch with the least sum of errors; of pitches that are equal to a
 * hundredth of a cent the one with the least sum of their squares, which
 * shares what cannot be mended; of those the one whose slides are least in
 * want of HBK_SLIDE_MARGIN_M at their ends, in cents in all; of those the one
 * least away from the horns' own pitches, in cents in all; of those the
 * highest. A pitch of music/standard.h is taken instead if it costs no horn
 * more than HBK_PITCH_NAMED_CENTS; of several the one least away from the
 * horns' own pitches. Looked for among the ends of the horns' ranges, with
 * margin and without, their own pitches, the standards and every half hertz
 * between.
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
    struct hbk_reach reach; /* of that setup */
    struct hbk_tuned tuned; /* what is drawn, and what stays off */
    /*
     * Where what is stuck keeps the tuning fingering from being made: what
     * gives the tuning note now, nearest to pitch and with the slides as they
     * were before. press_now is then not tuned.press; partial_now is 0 where
     * nothing gives it.
     */
    uint32_t press_now;
    unsigned partial_now;
    double cents_now;
};

/*
 * The setup that comes nearest; of equal ones that with the most margin at the
 * ends of its slides, then the first.
 */
enum hbk_status hbk_pitch_place(const struct hbk_pitch_member *member,
                                double a4_hz, struct hbk_arena *arena,
                                struct hbk_pitch_place *place,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
