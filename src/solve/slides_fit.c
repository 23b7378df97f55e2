#include "solve/slides_fit.h"

#include "base/arena.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/column.h"

#include <math.h>

static const double step_m = 0.001;

/*
 * How much a cent off proportion counts beside a note that is a cent out:
 * enough to decide where no note does, too little to be heard elsewhere.
 */
static const double prior_weight = 0.001;

/* A copy of the draws of a rig that can be changed. */
static double *copy_draws(const struct hbk_horn *horn,
                          const struct hbk_rig *rig, struct hbk_arena *arena)
{
    double *const draw_m = HBK_ARENA_ARRAY(arena, double, horn->n_slides + 1);
    for (size_t s = 0; s < horn->n_slides; s++) {
        draw_m[s] =
            rig->draw_m == NULL ? horn->slides[s].stands_out_m : rig->draw_m[s];
    }
    return draw_m;
}

/*
 * Mean cents from what one press gives to what another gives, over the
 * partials that a player uses; NAN if there are none.
 */
static double mean_interval(const struct hbk_horn *horn,
                            const struct hbk_peak *from,
                            const struct hbk_peak *to)
{
    double sum = 0.0;
    unsigned n = 0;
    for (unsigned p = horn->partials.lowest; p <= horn->partials.highest; p++) {
        if (!horn->partials.avoid[p] && from[p].hz > 0.0 && to[p].hz > 0.0) {
            sum += hbk_cents(to[p].hz, from[p].hz);
            n++;
        }
    }
    return n > 0 ? sum / n : (double)NAN;
}

/* The interval by which a valve alone moves the open horn. */
static enum hbk_status valve_interval(const struct hbk_horn *horn,
                                      const struct hbk_rig *rig, int valve,
                                      double *cents, struct hbk_faults *faults)
{
    const uint32_t presses[2] = {0, UINT32_C(1) << valve};
    struct hbk_peak peaks[2 * HBK_PEAK_STRIDE];
    HBK_TRY(hbk_column_peaks(horn, rig, 2, presses, peaks, faults));
    *cents = mean_interval(horn, peaks, peaks + HBK_PEAK_STRIDE);
    return HBK_OK;
}

/* The draw of one slide that makes the valve's interval what is wanted. */
static enum hbk_status find_draw(const struct hbk_horn *horn,
                                 struct hbk_rig rig, double *slot,
                                 double want_cents, int valve, double *found_m,
                                 struct hbk_faults *faults)
{
    enum { STEPS_MAX = 6 };
    static const double close_cents = 1e-4;
    double a_m = 0.0;
    double b_m = 0.005;
    double a_off = 0.0;
    double b_off = 0.0;
    *slot = a_m;
    HBK_TRY(valve_interval(horn, &rig, valve, &a_off, faults));
    a_off -= want_cents;
    for (int i = 0; i < STEPS_MAX; i++) {
        *slot = b_m;
        HBK_TRY(valve_interval(horn, &rig, valve, &b_off, faults));
        b_off -= want_cents;
        const double next_m = b_m - (b_off * (b_m - a_m) / (b_off - a_off));
        a_m = b_m;
        a_off = b_off;
        b_m = next_m;
        /* A slide cannot be pushed beyond home: the estimate will do. */
        if (!(fabs(b_off) > close_cents) || !(next_m > 0.0)) {
            break;
        }
    }
    *found_m = isfinite(b_m) ? b_m : (double)NAN;
    return HBK_OK;
}

static bool is_second(const struct hbk_horn *horn, size_t slide)
{
    for (size_t s = 0; s < slide; s++) {
        if (horn->slides[s].valve == horn->slides[slide].valve) {
            return true;
        }
    }
    return false;
}

enum hbk_status
hbk_slides_proportion(const struct hbk_horn *horn, const struct hbk_rig *own,
                      const struct hbk_rig *rig, struct hbk_arena *arena,
                      double proportion_m[], struct hbk_faults *faults)
{
    double *const draw_m = copy_draws(horn, rig, arena);
    struct hbk_rig here = *rig;
    here.draw_m = draw_m;
    for (size_t s = 0; s < horn->n_slides; s++) {
        const int valve = horn->slides[s].valve;
        proportion_m[s] = (double)NAN;
        if (valve < 0 || is_second(horn, s)) {
            continue;
        }
        double want = 0.0;
        HBK_TRY(valve_interval(horn, own, valve, &want, faults));
        if (isnan(want)) {
            continue;
        }
        const double home_m = draw_m[s];
        HBK_TRY(find_draw(horn, here, &draw_m[s], want, valve, &proportion_m[s],
                          faults));
        draw_m[s] = home_m;
    }
    return HBK_OK;
}

enum hbk_status hbk_slides_slope(const struct hbk_horn *horn,
                                 const struct hbk_rig *rig, size_t slide,
                                 struct hbk_arena *arena, double *cents_per_mm,
                                 struct hbk_faults *faults)
{
    const int valve = horn->slides[slide].valve;
    const uint32_t press =
        horn->controls[valve].rests_in ? 0 : UINT32_C(1) << valve;
    struct hbk_peak before[HBK_PEAK_STRIDE];
    struct hbk_peak after[HBK_PEAK_STRIDE];
    struct hbk_rig further = *rig;
    double *const draw_m = copy_draws(horn, rig, arena);
    further.draw_m = draw_m;
    HBK_TRY(hbk_column_peaks(horn, &further, 1, &press, before, faults));
    draw_m[slide] += step_m;
    HBK_TRY(hbk_column_peaks(horn, &further, 1, &press, after, faults));
    *cents_per_mm = mean_interval(horn, before, after);
    return HBK_OK;
}

/* The linear problem: cents of each note, and what each slide does to it. */
struct lines {
    size_t n_notes, n_valves;
    size_t *slides; /* the valve slides, n_valves of them */
    double *cents;  /* n_notes; NAN where the resonance is gone */
    double *slope;  /* cents per metre: n_notes for each valve slide */
};

static enum hbk_status sound_all(const struct hbk_slides_fit *fit,
                                 const struct hbk_rig *rig, double cents[],
                                 struct hbk_faults *faults)
{
    const size_t n = fit->use->n;
    if (n == 0) {
        return HBK_OK;
    }
    uint32_t *const presses = HBK_ARENA_ARRAY(fit->arena, uint32_t, n);
    struct hbk_peak *const peaks =
        HBK_ARENA_ARRAY(fit->arena, struct hbk_peak, n * HBK_PEAK_STRIDE);
    for (size_t i = 0; i < n; i++) {
        presses[i] = fit->use->items[i].press;
    }
    HBK_TRY(hbk_column_peaks(fit->horn, rig, n, presses, peaks, faults));
    for (size_t i = 0; i < n; i++) {
        const struct hbk_slides_item *const item = &fit->use->items[i];
        const double hz = peaks[(i * HBK_PEAK_STRIDE) + item->partial].hz;
        cents[i] = hz > 0.0 ? hbk_cents(hz, item->target_hz) : (double)NAN;
    }
    return HBK_OK;
}

static enum hbk_status make_lines(const struct hbk_slides_fit *fit,
                                  struct lines *lines,
                                  struct hbk_faults *faults)
{
    const struct hbk_horn *const horn = fit->horn;
    lines->n_notes = fit->use->n;
    lines->slides = HBK_ARENA_ARRAY(fit->arena, size_t, horn->n_slides);
    for (size_t s = 0; s < horn->n_slides; s++) {
        if (horn->slides[s].valve >= 0 && (fit->stuck >> s & 1U) == 0) {
            lines->slides[lines->n_valves++] = s;
        }
    }
    lines->cents = HBK_ARENA_ARRAY(fit->arena, double, lines->n_notes);
    lines->slope =
        HBK_ARENA_ARRAY(fit->arena, double, lines->n_notes * lines->n_valves);
    HBK_TRY(sound_all(fit, fit->rig, lines->cents, faults));
    double *const draw_m = copy_draws(horn, fit->rig, fit->arena);
    struct hbk_rig further = *fit->rig;
    further.draw_m = draw_m;
    for (size_t v = 0; v < lines->n_valves; v++) {
        double *const slope = lines->slope + (v * lines->n_notes);
        draw_m[lines->slides[v]] += step_m;
        HBK_TRY(sound_all(fit, &further, slope, faults));
        draw_m[lines->slides[v]] -= step_m;
        for (size_t i = 0; i < lines->n_notes; i++) {
            slope[i] = (slope[i] - lines->cents[i]) / step_m;
        }
    }
    return HBK_OK;
}

/*
 * One pass over the slides, each set to its own best with the others left;
 * returns the farthest move. The sum is a bowl with straight walls, so
 * passes run down to its lowest point.
 */
static double pass(const struct hbk_slides_fit *fit, const struct lines *lines,
                   double draw_m[])
{
    /* The prior counts in cents: this is about what a metre makes. */
    static const double prior_slope = 1000.0;
    double farthest = 0.0;
    for (size_t v = 0; v < lines->n_valves; v++) {
        const size_t s = lines->slides[v];
        const double prior_m = isnan(fit->prior_m[s])
                                   ? fit->horn->slides[s].stands_out_m
                                   : fit->prior_m[s];
        const double weight = prior_weight * prior_slope * prior_slope;
        double pull = weight * (prior_m - draw_m[s]);
        double stiff = weight;
        for (size_t i = 0; i < lines->n_notes; i++) {
            const double slope = lines->slope[(v * lines->n_notes) + i];
            double cents = lines->cents[i];
            for (size_t u = 0; u < lines->n_valves; u++) {
                const size_t other = lines->slides[u];
                cents += lines->slope[(u * lines->n_notes) + i] *
                         (draw_m[other] - fit->rig->draw_m[other]);
            }
            if (isnan(cents)) {
                continue;
            }
            pull -= fit->use->items[i].weight * slope * cents;
            stiff += fit->use->items[i].weight * slope * slope;
        }
        const double to = fmin(fmax(draw_m[s] + (pull / stiff), 0.0),
                               fit->horn->slides[s].travel_m);
        farthest = fmax(farthest, fabs(to - draw_m[s]));
        draw_m[s] = to;
    }
    return farthest;
}

enum hbk_status hbk_slides_fit(struct hbk_slides_fit *fit, double draw_m[],
                               struct hbk_faults *faults)
{
    enum { PASSES_MAX = 500 };
    static const double settled_m = 1e-7;
    struct lines lines = {0};
    HBK_TRY(make_lines(fit, &lines, faults));
    fit->before = 0.0;
    for (size_t i = 0; i < lines.n_notes; i++) {
        if (!isnan(lines.cents[i])) {
            fit->before +=
                fit->use->items[i].weight * lines.cents[i] * lines.cents[i];
        }
    }
    for (size_t s = 0; s < fit->horn->n_slides; s++) {
        draw_m[s] = fit->horn->slides[s].valve < 0 ? 0.0 : fit->rig->draw_m[s];
    }
    for (int i = 0; i < PASSES_MAX && pass(fit, &lines, draw_m) > settled_m;
         i++) {
    }
    return HBK_OK;
}
