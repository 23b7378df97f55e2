#include "solve/peak.h"

#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>

/* What was followed is lost when nothing lies so near any more. */
static const double follow_cents = 100.0;

double hbk_peak_claimant_hz(const struct hbk_peak *peak, size_t k)
{
    if (k == 0) {
        return peak->hz;
    }
    return k < HBK_CLAIMANTS_MAX ? peak->others[k - 1].hz : 0.0;
}

double hbk_peak_follow(const struct hbk_horn *horn, const struct hbk_peak row[],
                       unsigned partial, double near_hz)
{
    if (horn->model == HBK_MODEL_LENGTH) {
        return row[partial].hz;
    }
    const unsigned last =
        partial < HBK_PARTIALS_MAX ? partial + 1 : HBK_PARTIALS_MAX;
    double best_hz = 0.0;
    double least = follow_cents;
    for (unsigned p = partial > 1 ? partial - 1 : 1; p <= last; p++) {
        for (size_t k = 0; k < HBK_CLAIMANTS_MAX; k++) {
            const double hz = hbk_peak_claimant_hz(&row[p], k);
            const double off =
                hz > 0.0 ? fabs(hbk_cents(hz, near_hz)) : (double)INFINITY;
            if (off < least) {
                least = off;
                best_hz = hz;
            }
        }
    }
    return best_hz;
}
