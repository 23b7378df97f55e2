#include "solve/column.h"

#include "base/messages.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/bore_column.h"
#include "solve/habit.h"
#include "solve/length_column.h"
#include "solve/rest.h"

#include <math.h>

/* A resonance as the player sounds it. */
static void play(const struct hbk_horn *horn, double *hz, double *maximum_hz)
{
    if (*hz > 0.0) {
        const double ratio = hbk_cents_ratio(hbk_habit_cents(horn, *hz));
        *hz *= ratio;
        *maximum_hz *= ratio;
    }
}

void hbk_column_play(const struct hbk_horn *horn, const struct hbk_rig *rig,
                     size_t n, struct hbk_peak *peaks)
{
    for (size_t i = 0; i < n * HBK_PEAK_STRIDE && rig->as_played; i++) {
        struct hbk_peak *const peak = &peaks[i];
        play(horn, &peak->hz, &peak->maximum_hz);
        for (size_t k = 0; k < HBK_CLAIMANTS_MAX - 1; k++) {
            play(horn, &peak->others[k].hz, &peak->others[k].maximum_hz);
        }
    }
}

enum hbk_status hbk_column_peaks(const struct hbk_horn *horn,
                                 const struct hbk_rig *rig, size_t n,
                                 const uint32_t presses[],
                                 struct hbk_peak *peaks,
                                 struct hbk_faults *faults)
{
    if (horn->model == HBK_MODEL_BORE) {
        HBK_TRY(hbk_bore_peaks(horn, rig, n, presses, peaks, faults));
    } else if (hbk_length_peaks(horn, rig, n, presses, peaks) != HBK_OK) {
        hbk_fault_add(faults, (struct hbk_place){.file = horn->path},
                      HBK_H_NO_COLUMN,
                      "no air is left in the tube: the keys, loops or slides "
                      "take away more than the horn is long");
        return HBK_ERR_DOMAIN;
    }
    hbk_column_play(horn, rig, n, peaks);
    return HBK_OK;
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
