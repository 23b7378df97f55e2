#include "solve/slides.h"

#include "music/pitch.h"
#include "solve/reach.h"
#include "solve/slides_fit.h"
#include "solve/solve.h"

#include <math.h>
#include <string.h>

/* Everything one plan needs. */
struct plan {
    const struct hbk_horn *horn;
    struct hbk_setting setting; /* valve_draw_m points to draw_m */
    struct hbk_arena *arena;
    struct hbk_faults *faults;
    double *draw_m;       /* of all slides; main ones 0 */
    double *proportion_m; /* NAN for main slides */
};

static double *new_draws(const struct plan *plan)
{
    return HBK_ARENA_ARRAY(plan->arena, double, plan->horn->n_slides + 1);
}

/* The horn tuned with its valve slides drawn so; NULL for home. */
static enum hbk_status tune(const struct plan *plan, const double *valve_draw_m,
                            struct hbk_rig *rig)
{
    struct hbk_setting setting = plan->setting;
    setting.valve_draw_m = valve_draw_m;
    struct hbk_tuned tuned;
    struct hbk_faults told = {0};
    const enum hbk_status status =
        hbk_tune_horn(plan->horn, &setting, plan->arena, rig, &tuned, &told);
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, plan->faults);
    }
    return status;
}

/* Draws that the hand can make: nothing where none is known. */
static void within_travel(const struct hbk_horn *horn, const double from[],
                          double to[])
{
    for (size_t s = 0; s < horn->n_slides; s++) {
        to[s] = isnan(from[s])
                    ? 0.0
                    : fmin(fmax(from[s], 0.0), horn->slides[s].travel_m);
    }
}

/* The usual fingerings under the draws, as the fit wants them. */
static enum hbk_status choices(const struct plan *plan, struct hbk_notes *notes,
                               struct hbk_slides_use *use)
{
    struct hbk_faults told = {0};
    const enum hbk_status status =
        hbk_solve(plan->horn, &plan->setting, plan->arena, notes, &told);
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, plan->faults);
        return status;
    }
    struct hbk_slides_item *const items =
        HBK_ARENA_ARRAY(plan->arena, struct hbk_slides_item, notes->n);
    use->n = 0;
    use->items = items;
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *const note = &notes->notes[i];
        if (note->n > 0 && !(note->fingerings[0].drawn_m > 0.0)) {
            items[use->n++] = (struct hbk_slides_item){
                .press =
                    note->fingerings[0].press | plan->setting.stuck.held_down,
                .partial = note->fingerings[0].partial,
                .target_hz = note->target_hz,
                .weight = hbk_notes_extreme(notes, note->written) ? 0.5 : 1.0};
        }
    }
    return HBK_OK;
}

static double farthest_move(const struct hbk_horn *horn, const double a[],
                            const double b[])
{
    double farthest = 0.0;
    for (size_t s = 0; s < horn->n_slides; s++) {
        farthest = fmax(farthest, fabs(a[s] - b[s]));
    }
    return farthest;
}

/*
 * First choices and draws in turn, until they agree. Two sets of choices may
 * lead to each other for ever; then the better of what was met is kept.
 */
static enum hbk_status compromise(struct plan *plan)
{
    enum { TURNS_MAX = 8 };
    static const double settled_m = 0.02e-3;
    const size_t size = (plan->horn->n_slides + 1) * sizeof(double);
    double *const best_m = new_draws(plan);
    double *const next_m = new_draws(plan);
    double best = INFINITY;
    for (int turn = 0; turn < TURNS_MAX; turn++) {
        struct hbk_notes notes;
        struct hbk_slides_use use;
        HBK_TRY(choices(plan, &notes, &use));
        struct hbk_rig rig;
        HBK_TRY(tune(plan, plan->draw_m, &rig));
        struct hbk_slides_fit fit = {.horn = plan->horn,
                                     .rig = &rig,
                                     .use = &use,
                                     .prior_m = plan->proportion_m,
                                     .arena = plan->arena};
        HBK_TRY(hbk_slides_fit(&fit, next_m, plan->faults));
        if (fit.before < best) {
            best = fit.before;
            memcpy(best_m, plan->draw_m, size);
        }
        const double move = farthest_move(plan->horn, next_m, plan->draw_m);
        memcpy(plan->draw_m, next_m, size);
        if (move < settled_m) {
            return HBK_OK;
        }
    }
    memcpy(plan->draw_m, best_m, size);
    return HBK_OK;
}

/* Cents of every note's first choice under another set of draws. */
static enum hbk_status notes_under(const struct plan *plan,
                                   const double *valve_draw_m,
                                   const struct hbk_slides *slides,
                                   double cents[])
{
    struct hbk_rig rig;
    HBK_TRY(tune(plan, valve_draw_m, &rig));
    const struct hbk_notes *const notes = &slides->notes;
    uint32_t *const presses = HBK_ARENA_ARRAY(plan->arena, uint32_t, notes->n);
    for (size_t i = 0; i < notes->n; i++) {
        presses[i] = slides->list[i].press | plan->setting.stuck.held_down;
    }
    struct hbk_peak *const peaks = HBK_ARENA_ARRAY(plan->arena, struct hbk_peak,
                                                   notes->n * HBK_PEAK_STRIDE);
    HBK_TRY(hbk_column_peaks(plan->horn, &rig, notes->n, presses, peaks,
                             plan->faults));
    for (size_t i = 0; i < notes->n; i++) {
        const double hz =
            peaks[(i * HBK_PEAK_STRIDE) + slides->list[i].partial].hz;
        cents[i] =
            hz > 0.0 ? hbk_cents(hz, notes->notes[i].target_hz) : (double)NAN;
    }
    return HBK_OK;
}

static double rms(size_t n, const struct hbk_slide_note list[],
                  const double cents[])
{
    double sum = 0.0;
    double weights = 0.0;
    for (size_t i = 0; i < n; i++) {
        if (list[i].partial > 0 && !isnan(cents[i])) {
            sum += list[i].weight * cents[i] * cents[i];
            weights += list[i].weight;
        }
    }
    return weights > 0.0 ? sqrt(sum / weights) : 0.0;
}

/* What every note gives, three ways. */
static enum hbk_status list_notes(const struct plan *plan,
                                  struct hbk_slides *slides)
{
    const struct hbk_notes *const notes = &slides->notes;
    struct hbk_slide_note *const list =
        HBK_ARENA_ARRAY(plan->arena, struct hbk_slide_note, notes->n);
    double *const home = HBK_ARENA_ARRAY(plan->arena, double, notes->n);
    double *const even = HBK_ARENA_ARRAY(plan->arena, double, notes->n);
    double *const drawn = HBK_ARENA_ARRAY(plan->arena, double, notes->n);
    double *const even_m = new_draws(plan);
    slides->list = list;
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *const note = &notes->notes[i];
        list[i].written = note->written;
        list[i].weight = hbk_notes_extreme(notes, note->written) ? 0.5 : 1.0;
        if (note->n > 0) {
            list[i].press = note->fingerings[0].press;
            list[i].partial = note->fingerings[0].partial;
            drawn[i] = note->fingerings[0].cents;
        }
    }
    within_travel(plan->horn, plan->proportion_m, even_m);
    HBK_TRY(notes_under(plan, NULL, slides, home));
    HBK_TRY(notes_under(plan, even_m, slides, even));
    for (size_t i = 0; i < notes->n; i++) {
        /* A trigger goes as far as its note needs, whatever the slides. */
        const bool sounds = notes->notes[i].n > 0;
        const bool free = sounds && notes->notes[i].fingerings[0].drawn_m > 0.0;
        home[i] = free || !sounds ? drawn[i] : home[i];
        even[i] = free || !sounds ? drawn[i] : even[i];
        list[i].home_cents = home[i];
        list[i].proportion_cents = even[i];
        list[i].drawn_cents = drawn[i];
    }
    slides->home_rms = rms(notes->n, list, home);
    slides->proportion_rms = rms(notes->n, list, even);
    slides->drawn_rms = rms(notes->n, list, drawn);
    return HBK_OK;
}

static enum hbk_status list_warmths(const struct plan *plan,
                                    struct hbk_slides *slides)
{
    for (size_t i = 0; i < HBK_WARMTHS; i++) {
        struct hbk_setting setting = plan->setting;
        struct hbk_rig rig;
        struct hbk_tuned tuned;
        struct hbk_faults told = {0};
        setting.temperature_c = 10.0 + (5.0 * (double)i);
        const enum hbk_status status = hbk_tune_horn(
            plan->horn, &setting, plan->arena, &rig, &tuned, &told);
        if (status != HBK_OK) {
            hbk_faults_hand_on(&told, plan->faults);
            return status;
        }
        slides->warmths[i] =
            (struct hbk_warmth){.temperature_c = setting.temperature_c,
                                .draw_m = tuned.draw_m,
                                .bits = tuned.bits,
                                .after_cents = tuned.after_cents};
    }
    return HBK_OK;
}

static enum hbk_status list_pulls(const struct plan *plan,
                                  struct hbk_slides *slides)
{
    const struct hbk_horn *const horn = plan->horn;
    struct hbk_slide_pull *const pulls =
        HBK_ARENA_ARRAY(plan->arena, struct hbk_slide_pull, horn->n_slides);
    struct hbk_rig rig;
    HBK_TRY(tune(plan, plan->draw_m, &rig));
    for (size_t s = 0; s < horn->n_slides; s++) {
        pulls[s] =
            (struct hbk_slide_pull){.draw_m = slides->notes.tuned.draw_m[s],
                                    .proportion_m = plan->proportion_m[s],
                                    .cents_per_mm = slides->reach.cents_per_mm};
        if (horn->slides[s].valve >= 0) {
            HBK_TRY(hbk_slides_slope(horn, &rig, s, plan->arena,
                                     &pulls[s].cents_per_mm, plan->faults));
        }
    }
    slides->n = horn->n_slides;
    slides->pulls = pulls;
    return HBK_OK;
}

/* The draws in proportion, from the horn as it is at its own pitch. */
static enum hbk_status proportions(const struct plan *plan)
{
    const struct hbk_setting own = hbk_setting_of(plan->horn);
    struct hbk_rig own_rig;
    struct hbk_rig rig;
    struct hbk_tuned tuned;
    struct hbk_faults told = {0};
    const enum hbk_status status =
        hbk_tune_horn(plan->horn, &own, plan->arena, &own_rig, &tuned, &told);
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, plan->faults);
        return status;
    }
    HBK_TRY(tune(plan, NULL, &rig));
    return hbk_slides_proportion(plan->horn, &own_rig, &rig, plan->arena,
                                 plan->proportion_m, plan->faults);
}

enum hbk_status hbk_slides_plan(const struct hbk_horn *horn,
                                const struct hbk_setting *setting,
                                struct hbk_arena *arena,
                                struct hbk_slides *slides,
                                struct hbk_faults *faults)
{
    struct plan plan = {
        .horn = horn, .setting = *setting, .arena = arena, .faults = faults};
    plan.draw_m = new_draws(&plan);
    plan.proportion_m = new_draws(&plan);
    plan.setting.valve_draw_m = plan.draw_m;
    struct hbk_slides found = {.horn = horn};
    for (size_t s = 0; s < horn->n_slides; s++) {
        plan.proportion_m[s] = (double)NAN;
        found.has_valve_slides |= horn->slides[s].valve >= 0;
    }
    if (found.has_valve_slides) {
        HBK_TRY(proportions(&plan));
        within_travel(horn, plan.proportion_m, plan.draw_m);
        HBK_TRY(compromise(&plan));
    }
    HBK_TRY(hbk_solve(horn, &plan.setting, arena, &found.notes, faults));
    HBK_TRY(hbk_reach_of(horn, &plan.setting, arena, &found.reach, faults));
    HBK_TRY(list_pulls(&plan, &found));
    HBK_TRY(list_notes(&plan, &found));
    HBK_TRY(list_warmths(&plan, &found));
    *slides = found;
    return HBK_OK;
}
