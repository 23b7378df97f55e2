#include "solve/peak.h"

#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>

/*
 * What was followed is lost when nothing lies so near any more. What is heard
 * may go from one hump of a note to another, further than a maximum does.
 */
static const double follow_cents = 100.0;
static const double follow_heard_cents = 150.0;

struct hbk_sound hbk_peak_claimant(const struct hbk_peak *peak, size_t k)
{
    if (k == 0) {
        return (struct hbk_sound){peak->hz, peak->maximum_hz};
    }
    return k < HBK_CLAIMANTS_MAX
               ? (struct hbk_sound){peak->others[k - 1].hz,
                                    peak->others[k - 1].maximum_hz}
               : (struct hbk_sound){0};
}

double hbk_peak_claimant_hz(const struct hbk_peak *peak, size_t k)
{
    return hbk_peak_claimant(peak, k).hz;
}

struct hbk_sound hbk_peak_find(const struct hbk_horn *horn,
                               const struct hbk_peak row[], unsigned partial,
                               double near_hz, bool by_maximum)
{
    if (horn->model == HBK_MODEL_LENGTH) {
        return hbk_peak_claimant(&row[partial], 0);
    }
    const unsigned last =
        partial < HBK_PARTIALS_MAX ? partial + 1 : HBK_PARTIALS_MAX;
    struct hbk_sound best = {0};
    double least = by_maximum ? follow_cents : follow_heard_cents;
    for (unsigned p = partial > 1 ? partial - 1 : 1; p <= last; p++) {
        for (size_t k = 0; k < HBK_CLAIMANTS_MAX; k++) {
            const struct hbk_sound sound = hbk_peak_claimant(&row[p], k);
            const double hz = by_maximum ? sound.maximum_hz : sound.hz;
            const double off =
                hz > 0.0 ? fabs(hbk_cents(hz, near_hz)) : (double)INFINITY;
            if (off < least) {
                least = off;
                best = sound;
            }
        }
    }
    return best;
}

double hbk_peak_follow(const struct hbk_horn *horn, const struct hbk_peak row[],
                       unsigned partial, double near_hz)
{
    return hbk_peak_find(horn, row, partial, near_hz, false).hz;
}
