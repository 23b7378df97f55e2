#include "solve/slides.h"

#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/column.h"
#include "solve/reach.h"
#include "solve/search.h"
#include "solve/setup.h"
#include "solve/slides_fit.h"
#include "solve/valve_slides.h"

#include <math.h>

/* Everything one plan needs. */
struct plan {
    const struct hbk_horn *horn;
    const struct hbk_setting *setting;
    struct hbk_arena *arena;
    struct hbk_faults *faults;
    struct hbk_setup setup; /* as the setting asks */
    double *own_m;          /* NAN for main slides */
    double *best_m;
};

static double *new_draws(const struct plan *plan)
{
    return HBK_ARENA_ARRAY(plan->arena, double, plan->horn->n_slides + 1);
}

/* The horn tuned with its valve slides drawn so; what stays off was told. */
static enum hbk_status tune(const struct plan *plan,
                            const struct hbk_setting *setting,
                            const double valve_draw_m[],
                            struct hbk_setup *setup)
{
    struct hbk_faults told = {0};
    const enum hbk_status status = hbk_tune_horn(
        plan->horn, setting, valve_draw_m, plan->arena, setup, &told);
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, plan->faults);
    }
    return status;
}

/* Cents of every note's first choice under another set of draws. */
static enum hbk_status notes_under(const struct plan *plan,
                                   const double valve_draw_m[],
                                   const struct hbk_slides *slides,
                                   double cents[])
{
    struct hbk_setup setup;
    HBK_TRY(tune(plan, plan->setting, valve_draw_m, &setup));
    const struct hbk_notes *const notes = &slides->notes;
    uint32_t *const presses = HBK_ARENA_ARRAY(plan->arena, uint32_t, notes->n);
    for (size_t i = 0; i < notes->n; i++) {
        presses[i] = slides->list[i].press | plan->setting->stuck.held_down;
    }
    struct hbk_peak *const peaks = HBK_ARENA_ARRAY(plan->arena, struct hbk_peak,
                                                   notes->n * HBK_PEAK_STRIDE);
    HBK_TRY(hbk_column_peaks(plan->horn, &setup.rig, notes->n, presses, peaks,
                             plan->faults));
    for (size_t i = 0; i < notes->n; i++) {
        const double hz =
            peaks[(i * HBK_PEAK_STRIDE) + slides->list[i].partial].hz;
        cents[i] =
            hz > 0.0 ? hbk_cents(hz, notes->notes[i].target_hz) : (double)NAN;
    }
    return HBK_OK;
}

/*
 * The mean of all notes with the valve slides drawn so, by the first choices
 * that these draws want; a note that is then out of reach counts as far off
 * as a player is trusted to bend.
 */
static enum hbk_status mean_of(const struct plan *plan,
                               const double valve_draw_m[],
                               const struct hbk_slides *slides, double *mean)
{
    struct hbk_setup setup;
    struct hbk_notes notes;
    struct hbk_faults told = {0};
    HBK_TRY(tune(plan, plan->setting, valve_draw_m, &setup));
    const enum hbk_status status = hbk_solve_as_set(
        plan->horn, plan->setting, &setup, plan->arena, &notes, &told);
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, plan->faults);
        return status;
    }
    double sum = 0.0;
    double weights = 0.0;
    for (size_t i = 0; i < slides->notes.n; i++) {
        const struct hbk_slide_note *const item = &slides->list[i];
        const struct hbk_note *const note =
            hbk_notes_find(&notes, item->written);
        const double cents = note == NULL || note->n == 0
                                 ? plan->setting->lip_cents
                                 : note->fingerings[0].cents;
        sum += item->weight * cents * cents;
        weights += item->weight;
    }
    *mean = weights > 0.0 ? sqrt(sum / weights) : 0.0;
    return HBK_OK;
}

/* One way to set the valve slides: cents of all notes and their mean. */
static enum hbk_status one_way(const struct plan *plan,
                               const double valve_draw_m[],
                               const struct hbk_slides *slides, double cents[],
                               double *mean)
{
    const struct hbk_notes *const notes = &slides->notes;
    HBK_TRY(notes_under(plan, valve_draw_m, slides, cents));
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *const note = &notes->notes[i];
        /* A trigger goes as far as its note needs, whatever the slides. */
        if (note->n == 0) {
            cents[i] = 0.0;
        } else if (note->fingerings[0].drawn_m > 0.0) {
            cents[i] = note->fingerings[0].cents;
        }
    }
    return mean_of(plan, valve_draw_m, slides, mean);
}

/* What every note gives, three ways. */
static enum hbk_status list_notes(const struct plan *plan,
                                  struct hbk_slides *slides)
{
    const struct hbk_notes *const notes = &slides->notes;
    struct hbk_slide_note *const list =
        HBK_ARENA_ARRAY(plan->arena, struct hbk_slide_note, notes->n);
    double *const home = HBK_ARENA_ARRAY(plan->arena, double, notes->n);
    double *const own = HBK_ARENA_ARRAY(plan->arena, double, notes->n);
    double *const best = HBK_ARENA_ARRAY(plan->arena, double, notes->n);
    double *const own_m = new_draws(plan);
    slides->list = list;
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *const note = &notes->notes[i];
        list[i].written = note->written;
        list[i].weight = hbk_notes_extreme(notes, note->written) ? 0.5 : 1.0;
        if (note->n > 0) {
            list[i].press = note->fingerings[0].press;
            list[i].partial = note->fingerings[0].partial;
        }
    }
    hbk_valve_slides_within(plan->horn, plan->own_m, own_m);
    HBK_TRY(one_way(plan, new_draws(plan), slides, home, &slides->home_rms));
    HBK_TRY(one_way(plan, own_m, slides, own, &slides->own_rms));
    HBK_TRY(one_way(plan, plan->best_m, slides, best, &slides->best_rms));
    for (size_t i = 0; i < notes->n; i++) {
        list[i].home_cents = home[i];
        list[i].own_cents = own[i];
        list[i].best_cents = best[i];
    }
    return HBK_OK;
}

/* The main slides from 10 to 30 degrees, and as warm or cold as was asked. */
static enum hbk_status list_warmths(const struct plan *plan,
                                    struct hbk_slides *slides)
{
    static const double step_c = 5.0;
    const double asked_c = plan->setting->temperature_c;
    const double first_c = fmin(10.0, step_c * floor(asked_c / step_c));
    const double last_c = fmax(30.0, step_c * ceil(asked_c / step_c));
    for (double c = first_c; c <= last_c && slides->n_warmths < HBK_WARMTHS_MAX;
         c += step_c) {
        struct hbk_setting setting = *plan->setting;
        struct hbk_setup setup;
        setting.temperature_c = c;
        HBK_TRY(tune(plan, &setting, plan->setup.rig.draw_m, &setup));
        slides->warmths[slides->n_warmths++] =
            (struct hbk_warmth){.temperature_c = c,
                                .draw_m = setup.tuned.draw_m,
                                .bits = setup.tuned.bits,
                                .after_cents = setup.tuned.after_cents};
    }
    return HBK_OK;
}

static enum hbk_status list_pulls(const struct plan *plan,
                                  struct hbk_slides *slides)
{
    const struct hbk_horn *const horn = plan->horn;
    struct hbk_slide_pull *const pulls =
        HBK_ARENA_ARRAY(plan->arena, struct hbk_slide_pull, horn->n_slides);
    for (size_t s = 0; s < horn->n_slides; s++) {
        pulls[s] =
            (struct hbk_slide_pull){.draw_m = plan->setup.tuned.draw_m[s],
                                    .own_m = plan->own_m[s],
                                    .best_m = plan->best_m[s],
                                    .cents_per_mm = slides->reach.cents_per_mm};
        if (horn->slides[s].valve >= 0) {
            HBK_TRY(hbk_slides_slope(horn, &plan->setup.rig, s, plan->arena,
                                     &pulls[s].cents_per_mm, plan->faults));
        }
    }
    slides->n = horn->n_slides;
    slides->pulls = pulls;
    return HBK_OK;
}

enum hbk_status hbk_slides_plan(const struct hbk_horn *horn,
                                const struct hbk_setting *setting,
                                struct hbk_arena *arena,
                                struct hbk_slides *slides,
                                struct hbk_faults *faults)
{
    struct plan plan = {
        .horn = horn, .setting = setting, .arena = arena, .faults = faults};
    plan.own_m = new_draws(&plan);
    plan.best_m = new_draws(&plan);
    struct hbk_slides found = {.horn = horn,
                               .has_valve_slides = hbk_has_valve_slides(horn)};
    HBK_TRY(hbk_set_up(horn, setting, arena, &plan.setup, faults));
    HBK_TRY(hbk_solve_as_set(horn, setting, &plan.setup, arena, &found.notes,
                             faults));
    HBK_TRY(hbk_valve_slides_own(horn, setting, arena, plan.own_m, faults));
    HBK_TRY(hbk_valve_slides_best(horn, setting, plan.own_m, arena, plan.best_m,
                                  faults));
    HBK_TRY(hbk_reach_of(horn, setting, arena, &found.reach, faults));
    HBK_TRY(list_pulls(&plan, &found));
    HBK_TRY(list_notes(&plan, &found));
    HBK_TRY(list_warmths(&plan, &found));
    *slides = found;
    return HBK_OK;
}
