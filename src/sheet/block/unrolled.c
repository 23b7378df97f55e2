#include "sheet/block/unrolled.h"

#include "horn/horn.h"
#include "horn/tube.h"

#include <math.h>

/* Where the air leaves at rest, from the bell: holes by their place only. */
static double mouth_of(const struct hbk_horn *horn)
{
    double mouth = 0.0;
    for (size_t i = 0; i < horn->n_sites; i++) {
        const struct hbk_site *site = &horn->sites[i];
        if (site->kind == HBK_HOLE && site->at_rest &&
            !isnan(site->hole.from_bell_m)) {
            mouth = fmax(mouth, site->hole.from_bell_m);
        }
    }
    return mouth;
}

/*
 * Semitones that lie between rest and the air leaving by a hole, or by the
 * bell when `site` is n_sites. Of several open holes the last of the file is
 * nearest the mouthpiece, and leaves the others nothing while it is open.
 */
static double raised(const struct hbk_horn *horn, size_t site)
{
    double level = 0.0;
    for (size_t i = horn->n_sites; i-- > 0;) {
        const struct hbk_site *other = &horn->sites[i];
        if (other->kind == HBK_HOLE && other->at_rest &&
            isnan(other->hole.from_bell_m)) {
            if (i == site) {
                return level;
            }
            level += other->hole.raises;
        }
    }
    return site < horn->n_sites ? horn->sites[site].hole.raises : level;
}

double hbk_unrolled_length(const struct hbk_horn *horn, double rest_m)
{
    if (horn->model == HBK_MODEL_BORE) {
        return rest_m;
    }
    return (rest_m * exp2(-raised(horn, horn->n_sites) / 12.0)) +
           mouth_of(horn);
}

double hbk_unrolled_hole(const struct hbk_horn *horn, double rest_m,
                         size_t site)
{
    const struct hbk_hole *hole = &horn->sites[site].hole;
    const double whole = hbk_unrolled_length(horn, rest_m);
    if (!isnan(hole->from_bell_m)) {
        return 1.0 - (hole->from_bell_m / whole);
    }
    return rest_m * exp2(-raised(horn, site) / 12.0) / whole;
}

double hbk_unrolled_loop(const struct hbk_horn *horn, double rest_m,
                         size_t site)
{
    return hbk_loop_length(&horn->sites[site], rest_m) /
           hbk_unrolled_length(horn, rest_m);
}

bool hbk_unrolled_has_slide(const struct hbk_horn *horn, size_t slide)
{
    const struct hbk_slide *const what = &horn->slides[slide];
    return what->valve < 0 &&
           (isnan(what->at_m) || horn->model == HBK_MODEL_BORE ||
            !isnan(horn->length_m));
}
