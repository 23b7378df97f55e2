#include "acoustics/profile.h"

void hbk_chain_add_profile(struct hbk_chain *chain, size_t n,
                           const struct hbk_profile_point points[])
{
    for (size_t i = 1; i < n && !chain->overfull; i++) {
        const double length = points[i].x_m - points[i - 1].x_m;
        if (length == 0.0) {
            continue; /* a step: the radii of the neighbours say it */
        }
        hbk_chain_add_tube(chain,
                           (struct hbk_tube){length, points[i - 1].radius_m,
                                             points[i].radius_m});
    }
}

void hbk_chain_add_mouthpiece(struct hbk_chain *chain,
                              const struct hbk_mouthpiece_bore *mouthpiece)
{
    hbk_chain_add_cup(chain, mouthpiece->volume_m3);
    if (mouthpiece->throat_length_m != 0.0) {
        hbk_chain_add_tube(chain,
                           (struct hbk_tube){mouthpiece->throat_length_m,
                                             mouthpiece->throat_radius_m,
                                             mouthpiece->throat_radius_m});
    }
    hbk_chain_add_profile(chain, mouthpiece->n_backbore, mouthpiece->backbore);
}
