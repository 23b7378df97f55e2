#include "fit/trouble_case.h"

#include "horn/horn.h"
#include "solve/column.h"

#include <math.h>
#include <string.h>

/* The least leak that is tried: a pinhole; and the least lift. */
static const double pinhole_m = 0.0006;
static const double least_lift_m = 0.0002;
/* A pad whose lift no file gives lifts by so much of its hole's diameter. */
static const double usual_lift = 0.35;
/* Nearer to what was said no slide can be set by hand. */
static const double slide_least_m = 0.002;
/* By length: the air of a leak, as tube; from half closed to hardly. */
static const double air_least_m = 0.01;
static const double air_most_m = 6.0;
/* m/s; only the unit of those two hangs on it, so any air will do. */
static const double speed = 345.0;

static bool has_slide(const struct hbk_horn *horn, size_t control)
{
    for (size_t s = 0; s < horn->n_slides; s++) {
        if (horn->slides[s].valve == (int)control) {
            return true;
        }
    }
    return false;
}

const struct hbk_horn *hbk_trouble_horn(const struct hbk_horn *horn,
                                        struct hbk_arena *arena)
{
    const double none = (double)NAN;
    struct hbk_horn *const more = HBK_ARENA_ARRAY(arena, struct hbk_horn, 1);
    struct hbk_slide *const slides =
        HBK_ARENA_ARRAY(arena, struct hbk_slide, HBK_SLIDES_MAX);
    *more = *horn;
    for (size_t s = 0; s < horn->n_slides; s++) {
        slides[s] = horn->slides[s];
    }
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].kind == HBK_VALVE && !has_slide(horn, i) &&
            more->n_slides < HBK_SLIDES_MAX) {
            slides[more->n_slides++] = (struct hbk_slide){
                .name = hbk_arena_printf(arena, "%s", horn->controls[i].name),
                .travel_m = HBK_TROUBLE_SLIDE_M,
                .legs = 2,
                .at_m = none,
                .diameter_m = none,
                .valve = (int)i};
        }
    }
    more->slides = slides;
    return more;
}

struct hbk_rig hbk_trouble_rig(const struct hbk_horn *horn,
                               const struct hbk_rig *rig,
                               struct hbk_arena *arena)
{
    struct hbk_rig more = *rig;
    double *const draw_m = HBK_ARENA_ARRAY(arena, double, HBK_SLIDES_MAX);
    for (size_t s = 0; s < horn->n_slides; s++) {
        draw_m[s] =
            rig->draw_m == NULL ? horn->slides[s].stands_out_m : rig->draw_m[s];
    }
    more.draw_m = draw_m;
    return more;
}

/* The first control that works a site; -1 for none. */
static int control_of(const struct hbk_horn *horn, const struct hbk_site *site)
{
    for (size_t i = 0; i < horn->n_controls && site->n_terms > 0; i++) {
        if ((site->terms[0] >> i & 1U) != 0) {
            return (int)i;
        }
    }
    return -1;
}

static void put(struct hbk_trouble_case cases[], size_t *n,
                struct hbk_trouble_case item)
{
    cases[(*n)++] = item;
}

size_t hbk_trouble_cases(const struct hbk_horn *horn,
                         const struct hbk_stuck *stuck,
                         struct hbk_trouble_case cases[])
{
    size_t n = 0;
    const uint32_t fixed = stuck->held_down | stuck->held_up;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const int control = control_of(horn, &horn->sites[k]);
        if (horn->sites[k].kind == HBK_HOLE && control >= 0 &&
            (fixed >> control & 1U) == 0) {
            put(cases, &n,
                (struct hbk_trouble_case){HBK_TROUBLE_LEAK, (int)k, control,
                                          -1});
            put(cases, &n,
                (struct hbk_trouble_case){HBK_TROUBLE_LIFT, (int)k, control,
                                          -1});
        }
    }
    for (size_t s = 0; s < horn->n_slides; s++) {
        if ((stuck->slides >> s & 1U) == 0) {
            put(cases, &n,
                (struct hbk_trouble_case){HBK_TROUBLE_SLIDE, -1,
                                          horn->slides[s].valve, (int)s});
        }
    }
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].kind == HBK_VALVE && (fixed >> i & 1U) == 0) {
            put(cases, &n,
                (struct hbk_trouble_case){HBK_TROUBLE_STUCK_DOWN, -1, (int)i,
                                          -1});
            put(cases, &n,
                (struct hbk_trouble_case){HBK_TROUBLE_STUCK_UP, -1, (int)i,
                                          -1});
        }
    }
    return n;
}

/* Even steps of the logarithm. */
static struct hbk_trouble_range by_ratio(double least, double most)
{
    struct hbk_trouble_range range = {.n = HBK_TROUBLE_STEPS};
    for (size_t g = 0; g < HBK_TROUBLE_STEPS; g++) {
        const double t = (double)g / (HBK_TROUBLE_STEPS - 1);
        range.amount[g] = least * pow(most / least, t);
    }
    return range;
}

static double full_lift(const struct hbk_hole *hole)
{
    return isnan(hole->pad_lift_m) ? usual_lift * hole->diameter_m
                                   : hole->pad_lift_m;
}

/* As far as the slide goes in and out in every rig. */
static struct hbk_trouble_range slide_range(const struct hbk_horn *horn,
                                            size_t slide, size_t n_rigs,
                                            const struct hbk_rig rigs[])
{
    double in_m = INFINITY;
    double out_m = 0.0;
    for (size_t r = 0; r < n_rigs; r++) {
        in_m = fmin(in_m, rigs[r].draw_m[slide]);
        out_m = fmax(out_m, rigs[r].draw_m[slide]);
    }
    const double most = fmax(horn->slides[slide].travel_m - out_m, 0.0);
    const double least = fmin(-in_m, 0.0);
    struct hbk_trouble_range range = {.n = 0};
    /* Steps of one size, but for what is as good as nothing. */
    const double step = (most - least) / HBK_TROUBLE_STEPS;
    for (size_t g = 0; g < HBK_TROUBLE_STEPS; g++) {
        const double amount = least + (((double)g + 0.5) * step);
        if (fabs(amount) >= slide_least_m) {
            range.amount[range.n++] = amount;
        }
    }
    return range;
}

struct hbk_trouble_range hbk_trouble_range(const struct hbk_horn *horn,
                                           const struct hbk_trouble_case *what,
                                           size_t n_rigs,
                                           const struct hbk_rig rigs[])
{
    const struct hbk_hole *const hole =
        what->site < 0 ? NULL : &horn->sites[what->site].hole;
    const bool is_bored = horn->model == HBK_MODEL_BORE;
    switch (what->kind) {
    case HBK_TROUBLE_LEAK:
        return is_bored ? by_ratio(pinhole_m, hole->diameter_m)
                        : by_ratio(air_least_m, air_most_m);
    case HBK_TROUBLE_LIFT:
        return is_bored ? by_ratio(least_lift_m, 0.75 * full_lift(hole))
                        : by_ratio(air_least_m, air_most_m);
    case HBK_TROUBLE_SLIDE:
        return slide_range(horn, (size_t)what->slide, n_rigs, rigs);
    case HBK_TROUBLE_NONE:
    case HBK_TROUBLE_OTHER:
    case HBK_TROUBLE_STUCK_DOWN:
    case HBK_TROUBLE_STUCK_UP:
        break;
    }
    return (struct hbk_trouble_range){.n = 1};
}

/* A horn asked for the resonances of its presses. */
struct question {
    const struct hbk_horn *horn;
    const struct hbk_trouble_case *what;
    double amount;
    const struct hbk_soundings *soundings;
    struct hbk_arena *arena;
};

static enum hbk_status ask(const struct question *q,
                           const struct hbk_horn *horn, struct hbk_peak rows[])
{
    const struct hbk_soundings *const soundings = q->soundings;
    const uint32_t bit =
        q->what->control < 0 ? 0 : UINT32_C(1) << q->what->control;
    uint32_t *const presses =
        HBK_ARENA_ARRAY(q->arena, uint32_t, soundings->n_columns + 1);
    double *const draw_m = HBK_ARENA_ARRAY(q->arena, double, HBK_SLIDES_MAX);
    for (size_t c = 0; c < soundings->n_columns; c++) {
        const uint32_t press = soundings->presses[c];
        presses[c] = q->what->kind == HBK_TROUBLE_STUCK_DOWN ? press | bit
                     : q->what->kind == HBK_TROUBLE_STUCK_UP ? press & ~bit
                                                             : press;
    }
    for (size_t r = 0; r < soundings->n_rigs; r++) {
        const size_t first = soundings->first[r];
        const size_t here = soundings->first[r + 1] - first;
        /* The reason would be about a horn that nobody described. */
        struct hbk_faults unsaid = {0};
        struct hbk_rig rig = soundings->rigs[r];
        memcpy(draw_m, rig.draw_m, horn->n_slides * sizeof(*draw_m));
        rig.draw_m = draw_m;
        if (q->what->kind == HBK_TROUBLE_SLIDE) {
            draw_m[q->what->slide] += q->amount;
        }
        if (here > 0) {
            HBK_TRY(hbk_column_peaks(horn, &rig, here, &presses[first],
                                     &rows[first * HBK_PEAK_STRIDE], &unsaid));
        }
    }
    return HBK_OK;
}

/* A bored horn with a leak, or a pad that lifts less. */
static enum hbk_status ask_bored(const struct question *q,
                                 struct hbk_peak rows[])
{
    struct hbk_horn *const horn = HBK_ARENA_ARRAY(q->arena, struct hbk_horn, 1);
    *horn = *q->horn;
    struct hbk_site *const site = &horn->sites[q->what->site];
    if (q->what->kind == HBK_TROUBLE_LIFT) {
        site->hole.pad_lift_m = q->amount;
        return ask(q, horn, rows);
    }
    if (horn->n_sites == HBK_SITES_MAX) {
        return HBK_ERR_DOMAIN;
    }
    struct hbk_site *const leak = &horn->sites[horn->n_sites++];
    *leak = *site;
    leak->at_rest = !site->at_rest;
    leak->hole.diameter_m = q->amount;
    leak->hole.pad_lift_m = (double)NAN;
    leak->hole.pad_diameter_m = (double)NAN;
    return ask(q, horn, rows);
}

/* The horn with one hole always open, or always closed. */
static const struct hbk_horn *fix_hole(const struct question *q, bool is_open)
{
    struct hbk_horn *const horn = HBK_ARENA_ARRAY(q->arena, struct hbk_horn, 1);
    *horn = *q->horn;
    struct hbk_site *const site = &horn->sites[q->what->site];
    /* It leaves its rest at once, or never. */
    site->n_terms = site->at_rest == is_open ? 0 : 1;
    site->terms[0] = 0;
    return horn;
}

/* By length: the hole between open and closed. */
static enum hbk_status ask_length(const struct question *q,
                                  struct hbk_peak rows[])
{
    const struct hbk_soundings *const soundings = q->soundings;
    const struct hbk_site *const site = &q->horn->sites[q->what->site];
    const size_t n = soundings->n_columns * HBK_PEAK_STRIDE;
    struct hbk_peak *const open =
        HBK_ARENA_ARRAY(q->arena, struct hbk_peak, n + 1);
    struct hbk_peak *const closed =
        HBK_ARENA_ARRAY(q->arena, struct hbk_peak, n + 1);
    HBK_TRY(ask(q, q->horn, rows));
    HBK_TRY(ask(q, fix_hole(q, true), open));
    HBK_TRY(ask(q, fix_hole(q, false), closed));
    for (size_t c = 0; c < soundings->n_columns; c++) {
        const bool is_open = hbk_site_state(site, soundings->presses[c]);
        if (is_open != (q->what->kind == HBK_TROUBLE_LIFT)) {
            continue;
        }
        const size_t at = c * HBK_PEAK_STRIDE;
        const double length = speed / (2.0 * closed[at + 1].hz);
        const double cut = length - (speed / (2.0 * open[at + 1].hz));
        const double less = cut > 0.0 ? cut * cut / (cut + q->amount) : 0.0;
        for (size_t p = 1; p < HBK_PEAK_STRIDE; p++) {
            const double hz = closed[at + p].hz * length / (length - less);
            rows[at + p].hz = hz;
            rows[at + p].maximum_hz = hz;
        }
    }
    return HBK_OK;
}

enum hbk_status hbk_trouble_rows(const struct hbk_horn *horn,
                                 const struct hbk_trouble_case *what,
                                 double amount,
                                 const struct hbk_soundings *soundings,
                                 struct hbk_peak rows[])
{
    struct hbk_arena scratch = {0};
    const struct question q = {.horn = horn,
                               .what = what,
                               .amount = amount,
                               .soundings = soundings,
                               .arena = &scratch};
    const bool is_hole =
        what->kind == HBK_TROUBLE_LEAK || what->kind == HBK_TROUBLE_LIFT;
    const enum hbk_status status = !is_hole ? ask(&q, horn, rows)
                                   : horn->model == HBK_MODEL_BORE
                                       ? ask_bored(&q, rows)
                                       : ask_length(&q, rows);
    hbk_arena_finish(&scratch);
    return status;
}
