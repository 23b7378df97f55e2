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
 * hbk_chain_add_profile instead.
 */
void hbk_chain_add_mouthpiece(struct hbk_chain *chain,
                              const struct hbk_mouthpiece_bore *mouthpiece);

#endif
