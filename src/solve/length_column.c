#include "solve/length_column.h"

#include "acoustics/air.h"
#include "horn/horn.h"
#include "horn/tube.h"
#include "music/pitch.h"
#include "solve/rest.h"

#include <math.h>

/*
 * The air-column length when each hole is the uppermost open one. A hole
 * that stands open is worth the length at rest if it is the uppermost of its
 * kind; each further one down takes off what shutting the one above takes.
 */
struct holes {
    double open_m[HBK_SITES_MAX]; /* by site */
    double all_shut_m;
};

static bool by_place(const struct hbk_site *site)
{
    return isnan(site->hole.raises);
}

/* Sites are in the file's order; keys are numbered from the bell. */
static void hole_lengths(const struct hbk_horn *horn, double rest_m,
                         struct holes *holes)
{
    double level = 0.0;   /* semitones of the next open-standing hole */
    double mouth_m = 0.0; /* where the air leaves at rest, from the bell */
    holes->all_shut_m = rest_m;
    for (size_t k = horn->n_sites; k-- > 0;) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind != HBK_HOLE || !site->at_rest) {
            continue;
        }
        if (by_place(site)) {
            mouth_m = fmax(mouth_m, site->hole.from_bell_m);
            continue;
        }
        holes->open_m[k] = rest_m * exp2(-level / 12.0);
        level += site->hole.raises;
        holes->all_shut_m = rest_m * exp2(-level / 12.0);
    }
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind != HBK_HOLE || (site->at_rest && !by_place(site))) {
            continue;
        }
        holes->open_m[k] = by_place(site)
                               ? rest_m + mouth_m - site->hole.from_bell_m
                               : rest_m * exp2(-site->hole.raises / 12.0);
    }
    holes->all_shut_m += mouth_m;
}

static double air_length(const struct hbk_horn *horn, const struct holes *holes,
                         uint32_t press)
{
    double shortest = holes->all_shut_m;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind == HBK_HOLE && hbk_site_state(site, press)) {
            shortest = fmin(shortest, holes->open_m[k]);
        }
    }
    return shortest;
}

static double loops_in(const struct hbk_horn *horn, double rest_m,
                       uint32_t press)
{
    double length = 0.0;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind != HBK_LOOP) {
            continue;
        }
        /* The length at rest counts the loops that are in at rest. */
        const double in = hbk_site_state(site, press) ? 1.0 : 0.0;
        const double at_rest = site->at_rest ? 1.0 : 0.0;
        length += (in - at_rest) * hbk_loop_length(site, rest_m);
    }
    return length;
}

/* A valve's own slide lengthens its loop while the loop is in. */
static double valve_slides(const struct hbk_horn *horn,
                           const struct hbk_rig *rig, uint32_t press)
{
    double length = 0.0;
    for (size_t s = 0; s < horn->n_slides; s++) {
        const int valve = horn->slides[s].valve;
        if (valve < 0) {
            continue;
        }
        const bool pressed = (press >> valve & 1U) != 0;
        if (pressed != horn->controls[valve].rests_in) {
            length += hbk_slide_added_m(horn, rig, s);
        }
    }
    return length;
}

static double column_length(const struct hbk_horn *horn,
                            const struct hbk_rig *rig,
                            const struct holes *holes, uint32_t press)
{
    const double rest_m = hbk_length_at_rest(horn);
    return air_length(horn, holes, press) + loops_in(horn, rest_m, press) +
           valve_slides(horn, rig, press) + hbk_rig_added_m(horn, rig);
}

enum hbk_status hbk_length_peaks(const struct hbk_horn *horn,
                                 const struct hbk_rig *rig, size_t n,
                                 const uint32_t presses[],
                                 struct hbk_peak *peaks)
{
    const double speed = hbk_speed_of_sound(rig->temperature_c);
    struct holes holes;
    hole_lengths(horn, hbk_length_at_rest(horn), &holes);
    for (size_t i = 0; i < n; i++) {
        if (!(column_length(horn, rig, &holes, presses[i]) > 0.0) ||
            !(speed > 0.0)) {
            return HBK_ERR_DOMAIN;
        }
    }
    for (size_t i = 0; i < n; i++) {
        const double length = column_length(horn, rig, &holes, presses[i]);
        struct hbk_peak *const row = &peaks[i * HBK_PEAK_STRIDE];
        row[0] = (struct hbk_peak){0};
        for (unsigned p = 1; p <= HBK_PARTIALS_MAX; p++) {
            const double stretch = horn->partials.stretch_cents[p];
            const double hz =
                p * speed / (2.0 * length) * hbk_cents_ratio(stretch);
            row[p] = (struct hbk_peak){.hz = hz, .maximum_hz = hz};
        }
    }
    return HBK_OK;
}
