#include "solve/column.h"

#include "music/pitch.h"
#include "solve/bore_column.h"
#include "solve/length_column.h"

#include <math.h>

enum { H_NO_COLUMN = 130 };

/* What was followed is lost when nothing lies so near any more. */
static const double follow_cents = 100.0;

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

enum hbk_status hbk_column_peaks(const struct hbk_horn *horn,
                                 const struct hbk_rig *rig, size_t n,
                                 const uint32_t presses[],
                                 struct hbk_peak *peaks,
                                 struct hbk_faults *faults)
{
    if (horn->model == HBK_MODEL_BORE) {
        return hbk_bore_peaks(horn, rig, n, presses, peaks, faults);
    }
    const enum hbk_status status =
        hbk_length_peaks(horn, rig, n, presses, peaks);
    if (status != HBK_OK) {
        hbk_fault_add(faults, (struct hbk_place){.file = horn->path},
                      H_NO_COLUMN,
                      "no air is left in the tube: the keys, loops or slides "
                      "take away more than the horn is long");
    }
    return status;
}

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

/* Distance of a hole from the bell, or NAN if the file has only semitones. */
static double from_bell(const struct hbk_horn *horn,
                        const struct hbk_site *site)
{
    if (!isnan(site->hole.from_bell_m) || horn->model == HBK_MODEL_LENGTH) {
        return site->hole.from_bell_m;
    }
    const struct hbk_bore *const bore = &horn->bore;
    return bore->stations[bore->n_stations - 1].x_m - site->at_m;
}

double hbk_column_raise(const struct hbk_horn *horn, uint32_t press)
{
    double mouth_m = 0.0;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind == HBK_HOLE && site->at_rest) {
            mouth_m = fmax(mouth_m, from_bell(horn, site)); /* NAN is less */
        }
    }
    const double rest_m =
        horn->model == HBK_MODEL_LENGTH
            ? hbk_length_at_rest(horn)
            : horn->bore.stations[horn->bore.n_stations - 1].x_m - mouth_m;
    double raise = 0.0;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind != HBK_HOLE || site->at_rest ||
            !hbk_site_state(site, press)) {
            continue;
        }
        const double shorter_m = from_bell(horn, site) - mouth_m;
        raise = fmax(raise, isnan(site->hole.raises)
                                ? 12.0 * log2(rest_m / (rest_m - shorter_m))
                                : site->hole.raises);
    }
    return raise;
}
