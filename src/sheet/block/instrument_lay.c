#include "sheet/block/instrument_lay.h"

#include "base/pi.h"
#include "horn/about.h"
#include "sheet/block/spread.h"
#include "sheet/block/unrolled.h"

#include <math.h>

/* At unit 1, mm. */
static const double least_between_holes = 4.4;
static const double least_between_touches = 10.2;
static const double wide_between_touches = 13.5;
static const double between_valves = 26.0;
static const double least_between_valves = 14.0;
static const double clear_of_bell = 10.0;
static const double trigger_beside = 19.0; /* its valve */

/* Valves of unknown place begin at this share of the tube; triggers there. */
static const double valves_from = 0.30;
static const double valves_from_with_keys = 0.16;
static const double trigger_at = 0.10;

/* How much a site is the control's own: 3 its alone, 0 not at all. */
static int own(const struct hbk_site *site, uint32_t bit)
{
    int best = 0;
    for (size_t t = 0; t < site->n_terms; t++) {
        const int much = site->terms[t] != bit ? (site->terms[t] & bit) != 0
                         : site->n_terms == 1  ? 3
                                               : 2;
        best = much > best ? much : best;
    }
    return best;
}

/* The site that a control works by itself, or has a part in. */
static const struct hbk_site *site_of(const struct hbk_horn *horn,
                                      size_t control)
{
    const struct hbk_site *found = NULL;
    int best = 0;
    for (size_t i = 0; i < horn->n_sites; i++) {
        const int much = own(&horn->sites[i], UINT32_C(1) << control);
        if (much > best) {
            best = much;
            found = &horn->sites[i];
        }
    }
    return found;
}

/* The place of a loop as a share of the tube; NAN where it is not known. */
static double loop_share(const struct hbk_horn *horn, double whole_m,
                         const struct hbk_site *site)
{
    const bool has_length =
        horn->model == HBK_MODEL_BORE || !isnan(horn->length_m);
    return site == NULL || !has_length ? (double)NAN : site->at_m / whole_m;
}

/* The valve whose slide a trigger draws; -1 for the main one. */
static int valve_of(const struct hbk_horn *horn, const struct hbk_site *site)
{
    for (size_t i = 0; site != NULL && i < horn->n_controls; i++) {
        if (horn->controls[i].kind == HBK_VALVE &&
            (site->terms[0] >> i & 1u) != 0) {
            return (int)i;
        }
    }
    return -1;
}

/* A trigger of a valve stands beside that, on the side of the bell. */
static double trigger_share(const struct hbk_instrument_layout *layout,
                            const struct hbk_instrument_part *part)
{
    const struct hbk_instrument *instrument = layout->instrument;
    const struct hbk_horn *horn = instrument->notes->horn;
    const int valve = valve_of(horn, part->site);
    for (size_t i = 0; valve >= 0 && i < layout->n; i++) {
        if ((int)layout->parts[i].control == valve &&
            layout->parts[i].x > 0.0) {
            return hbk_instrument_share(layout, layout->parts[i].x) +
                   trigger_beside * layout->u / instrument->width;
        }
    }
    return trigger_at;
}

static double want(const struct hbk_instrument_layout *layout,
                   const struct hbk_instrument_part *part, size_t *valves)
{
    const struct hbk_instrument *instrument = layout->instrument;
    const struct hbk_horn *horn = instrument->notes->horn;
    const double rest_m = instrument->notes->rest_m;
    const struct hbk_control *control = &horn->controls[part->control];
    if (control->kind == HBK_KEY && part->site != NULL) {
        return hbk_unrolled_hole(horn, rest_m,
                                 (size_t)(part->site - horn->sites));
    }
    const double share =
        loop_share(horn, hbk_unrolled_length(horn, rest_m), part->site);
    const bool has_keys = hbk_horn_has_kind(horn, HBK_KEY);
    const double from = has_keys ? valves_from_with_keys : valves_from;
    const double step = between_valves * layout->u / instrument->width;
    return isnan(share) ? from + (double)(*valves)++ * step : share;
}

static void sort(size_t n, struct hbk_instrument_part parts[])
{
    for (size_t i = 1; i < n; i++) {
        const struct hbk_instrument_part part = parts[i];
        size_t k = i;
        for (; k > 0 && parts[k - 1].x > part.x; k--) {
            parts[k] = parts[k - 1];
        }
        parts[k] = part;
    }
}

/* What two neighbours need between them on the tube, mm at unit 1. */
static double between(const struct hbk_horn *horn,
                      const struct hbk_instrument_part *a,
                      const struct hbk_instrument_part *b)
{
    const bool a_key = horn->controls[a->control].kind == HBK_KEY;
    const bool b_key = horn->controls[b->control].kind == HBK_KEY;
    return a_key && b_key ? least_between_holes : least_between_valves;
}

/* Holes and cases: in their places, or as near as they do not touch. */
static void place_parts(struct hbk_instrument_layout *layout)
{
    const struct hbk_instrument *instrument = layout->instrument;
    const struct hbk_horn *horn = instrument->notes->horn;
    double at[HBK_CONTROLS_MAX];
    double before[HBK_CONTROLS_MAX] = {0.0};
    for (size_t i = 0; i < layout->n; i++) {
        if (i > 0) {
            before[i] =
                before[i - 1] + layout->u * between(horn, &layout->parts[i - 1],
                                                    &layout->parts[i]);
        }
        at[i] = layout->parts[i].x - before[i];
    }
    const double low = instrument->x + 8.0 * layout->u;
    const double last = layout->n > 0 ? before[layout->n - 1] : 0.0;
    const double high =
        instrument->x + instrument->width - 4.0 * layout->u - last;
    hbk_spread(layout->n, at, 0.0, low, fmax(low, high));
    for (size_t i = 0; i < layout->n; i++) {
        layout->parts[i].x = at[i] + before[i];
    }
}

/* The rings: as wide apart as the room allows, over their parts. */
static void place_touches(struct hbk_instrument_layout *layout)
{
    const struct hbk_instrument *instrument = layout->instrument;
    const double low = instrument->x + 4.0 * layout->u;
    const double high =
        instrument->x + instrument->width - clear_of_bell * layout->u;
    double at[HBK_CONTROLS_MAX];
    for (size_t i = 0; i < layout->n; i++) {
        at[i] = layout->parts[i].x;
    }
    const double room =
        layout->n > 1 ? (high - low) / (double)(layout->n - 1) : 1e9;
    const double gap =
        fmax(least_between_touches * layout->u,
             fmin(wide_between_touches * layout->u, 0.62 * room));
    hbk_spread(layout->n, at, gap, low, high);
    double least = 1e9;
    for (size_t i = 0; i < layout->n; i++) {
        layout->parts[i].touch = at[i];
        least = i > 0 ? fmin(least, at[i] - at[i - 1]) : least;
    }
    layout->ring = fmin(HBK_INSTRUMENT_RING * layout->u, 0.38 * least);
}

void hbk_instrument_lay(const struct hbk_instrument *instrument,
                        struct hbk_instrument_layout *layout)
{
    const struct hbk_horn *horn = instrument->notes->horn;
    *layout = (struct hbk_instrument_layout){.instrument = instrument,
                                             .u = instrument->unit,
                                             .g = instrument->unit *
                                                  instrument->growth,
                                             .n = horn->n_controls};
    const double whole_m = hbk_unrolled_length(horn, instrument->notes->rest_m);
    layout->scale = instrument->width / whole_m;
    size_t valves = 0;
    for (size_t i = 0; i < layout->n; i++) {
        struct hbk_instrument_part *part = &layout->parts[i];
        part->control = i;
        part->site = site_of(horn, i);
        if (horn->controls[i].kind != HBK_TRIGGER) {
            part->x =
                instrument->x + instrument->width * want(layout, part, &valves);
        }
    }
    for (size_t i = 0; i < layout->n; i++) {
        struct hbk_instrument_part *part = &layout->parts[i];
        if (horn->controls[i].kind == HBK_TRIGGER) {
            part->x =
                instrument->x + instrument->width * trigger_share(layout, part);
        }
    }
    sort(layout->n, layout->parts);
    place_parts(layout);
    place_touches(layout);
}

const struct hbk_instrument_part *
hbk_instrument_drawn(const struct hbk_instrument_layout *layout,
                     const struct hbk_instrument_part *trigger)
{
    const struct hbk_horn *horn = layout->instrument->notes->horn;
    const int valve = valve_of(horn, trigger->site);
    for (size_t i = 0; i < layout->n; i++) {
        if ((int)layout->parts[i].control == valve) {
            return &layout->parts[i];
        }
    }
    return NULL;
}

double hbk_instrument_share(const struct hbk_instrument_layout *layout,
                            double x)
{
    return (x - layout->instrument->x) / layout->instrument->width;
}

/* Of a bored horn: from 0 at its narrowest after the cup to 1 at the bell. */
static double bore_width(const struct hbk_horn *horn, double share)
{
    const struct hbk_bore *bore = &horn->bore;
    const size_t last = bore->n_stations - 1;
    size_t narrow = 0;
    for (size_t i = 0; i <= last; i++) {
        if (bore->stations[i].x_m < 0.25 * bore->stations[last].x_m &&
            bore->stations[i].radius_m < bore->stations[narrow].radius_m) {
            narrow = i;
        }
    }
    const double x =
        fmax(share * bore->stations[last].x_m, bore->stations[narrow].x_m);
    size_t i = 1;
    while (i < last && bore->stations[i].x_m < x) {
        i++;
    }
    const struct hbk_station *a = &bore->stations[i - 1];
    const struct hbk_station *b = &bore->stations[i];
    const double along =
        b->x_m > a->x_m ? fmin(1.0, (x - a->x_m) / (b->x_m - a->x_m)) : 1.0;
    const double radius = a->radius_m + along * (b->radius_m - a->radius_m);
    const double least = bore->stations[narrow].radius_m;
    return fmax(0.0,
                (radius - least) / (bore->stations[last].radius_m - least));
}

/* A flare as bells have it, of our own drawing. */
static double flare(double share)
{
    return pow(1.028 - share, -0.62);
}

double hbk_instrument_half(const struct hbk_instrument_layout *layout,
                           double share)
{
    const struct hbk_horn *horn = layout->instrument->notes->horn;
    const double f = fmin(1.0, fmax(0.0, share));
    const double wide =
        horn->model == HBK_MODEL_BORE
            ? bore_width(horn, f)
            : 0.93 * (flare(f) - flare(0.0)) / (flare(1.0) - flare(0.0)) +
                  0.07 * f;
    return layout->g * (HBK_INSTRUMENT_THROAT +
                        (HBK_INSTRUMENT_BELL - HBK_INSTRUMENT_THROAT) * wide);
}

struct hbk_bows hbk_instrument_bows(const struct hbk_instrument_layout *layout,
                                    const struct hbk_site *site)
{
    const struct hbk_notes *notes = layout->instrument->notes;
    struct hbk_bows bows = {.n = 1, .width = 2.4 * layout->u};
    if (site == NULL || site->kind != HBK_LOOP) {
        bows.n = 0;
        return bows;
    }
    const size_t at = (size_t)(site - notes->horn->sites);
    const double length = layout->instrument->width *
                          hbk_unrolled_loop(notes->horn, notes->rest_m, at);
    const double bend = 0.5 * HBK_PI * bows.width;
    const double most = HBK_INSTRUMENT_LEG * layout->g;
    while (bows.n < 8 && 0.5 * (length / (double)bows.n - bend) > most) {
        bows.n++;
    }
    bows.width = fmin(bows.width, 8.0 * layout->u / (double)bows.n);
    bows.leg = fmax(0.8 * layout->u, 0.5 * (length / (double)bows.n - bend));
    return bows;
}

bool hbk_instrument_by_rule(const struct hbk_horn *horn)
{
    for (size_t i = 0; i < horn->n_sites; i++) {
        if (horn->sites[i].kind == HBK_HOLE &&
            isnan(horn->sites[i].hole.from_bell_m)) {
            return true;
        }
    }
    return false;
}

bool hbk_instrument_unplaced(const struct hbk_horn *horn)
{
    for (size_t i = 0; i < horn->n_sites; i++) {
        const struct hbk_site *site = &horn->sites[i];
        if (site->kind == HBK_LOOP && !site->loop.is_drawn &&
            isnan(loop_share(horn, 1.0, site))) {
            return true;
        }
    }
    return false;
}
