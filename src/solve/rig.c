#include "solve/rig.h"

#include "horn/horn.h"

const struct hbk_mouthpiece *hbk_rig_mouthpiece(const struct hbk_horn *horn,
                                                const struct hbk_rig *rig)
{
    return rig->mouthpiece == 0 ? &horn->bore.mouthpiece
                                : &horn->mouthpieces[rig->mouthpiece - 1].piece;
}

double hbk_slide_added_m(const struct hbk_horn *horn, const struct hbk_rig *rig,
                         size_t slide)
{
    const struct hbk_slide *const s = &horn->slides[slide];
    return rig->draw_m == NULL
               ? 0.0
               : s->legs * (rig->draw_m[slide] - s->stands_out_m);
}

double hbk_rig_added_m(const struct hbk_horn *horn, const struct hbk_rig *rig)
{
    double added = 0.0;
    if (rig->crook >= 0) {
        added += horn->crooks[rig->crook].adds_m;
    }
    for (size_t s = 0; s < horn->n_slides; s++) {
        if (horn->slides[s].valve < 0) {
            added += hbk_slide_added_m(horn, rig, s);
        }
    }
    for (size_t b = 0; b < horn->n_bits; b++) {
        added += (rig->bits >> b & 1U) != 0 ? horn->bits[b].adds_m : 0.0;
    }
    return added;
}
