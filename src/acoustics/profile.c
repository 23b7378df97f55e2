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

void hbk_chain_find_cup(struct hbk_chain *chain)
{
    chain->n_cup = 0;
    double rim_m = 0.0;
    double narrowest_m = 0.0;
    double x_m = 0.0;
    size_t end = 0;
    for (size_t i = 0; i < chain->n && x_m <= HBK_CUP_REACH_M; i++) {
        const struct hbk_element *const element = &chain->elements[i];
        if (element->kind == HBK_ELEMENT_CUP) {
            return;
        }
        if (element->kind != HBK_ELEMENT_TUBE) {
            continue;
        }
        const struct hbk_tube *const tube = &element->tube;
        if (rim_m == 0.0) {
            rim_m = tube->near_m;
            narrowest_m = rim_m;
        }
        x_m += tube->length_m;
        if (x_m <= HBK_CUP_REACH_M && tube->far_m < narrowest_m) {
            narrowest_m = tube->far_m;
            end = i + 1;
        }
    }
    if (rim_m >= HBK_CUP_RATIO * narrowest_m) {
        chain->n_cup = end;
    }
}
