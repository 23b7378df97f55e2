#ifndef HBK_ACOUSTICS_PROFILE_H
#define HBK_ACOUSTICS_PROFILE_H

#include "acoustics/chain.h"

/* Tubes laid into a chain by the corners of their walls. */

/* A corner of a profile: straight walls run from one to the next. */
struct hbk_profile_point {
    double x_m;
    double radius_m;
};

/*
 * Adds n - 1 tubes between n points of rising x; two points at one x make a
 * step. A point out of order becomes a tube of negative length, which the
 * check refuses.
 */
void hbk_chain_add_profile(struct hbk_chain *chain, size_t n,
                           const struct hbk_profile_point points[]);

/* A mouthpiece given by its cup volume, throat and backbore. */
struct hbk_mouthpiece_bore {
    double volume_m3;
    double throat_length_m; /* 0: no throat */
    double throat_radius_m;
    size_t n_backbore; /* points, x from the end of the throat; 0: none */
    const struct hbk_profile_point *backbore; /* borrowed for the call */
};

/*
 * Adds the cup as a volume in parallel, then the throat and the backbore as
 * lossy tubes. A mouthpiece known by its whole profile is simply added with
 * hbk_chain_add_profile instead, and hbk_chain_find_cup called when the chain
 * is complete.
 */
void hbk_chain_add_mouthpiece(struct hbk_chain *chain,
                              const struct hbk_mouthpiece_bore *mouthpiece);

/* How far in the narrowest place of a mouthpiece lies at most, m. */
#define HBK_CUP_REACH_M 0.100
/* How much wider than that place the rim of a cup is at least. */
#define HBK_CUP_RATIO 1.5

/*
 * Where the bore of a complete chain begins with a cup, gives it plane fronts
 * (n_cup of struct hbk_chain): up to the narrowest place within
 * HBK_CUP_REACH_M, if the bore begins HBK_CUP_RATIO times as wide or wider. A
 * cup is some four times as wide as its throat; what a bore narrows elsewhere,
 * at a receiver or a slide, is a few per cent and keeps its fronts. A chain
 * whose cup was added as a volume has none to find.
 */
void hbk_chain_find_cup(struct hbk_chain *chain);

#endif
