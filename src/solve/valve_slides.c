#include "solve/valve_slides.h"

#include "horn/horn.h"
#include "solve/search.h"
#include "solve/setting.h"
#include "solve/slides_fit.h"
#include "solve/tuning.h"

#include <math.h>
#include <string.h>

bool hbk_has_valve_slides(const struct hbk_horn *horn)
{
    for (size_t s = 0; s < horn->n_slides; s++) {
        if (horn->slides[s].valve >= 0) {
            return true;
        }
    }
    return false;
}

void hbk_valve_slides_within(const struct hbk_horn *horn, const double own_m[],
                             double draw_m[])
{
    for (size_t s = 0; s < horn->n_slides; s++) {
        const struct hbk_slide *const slide = &horn->slides[s];
        const double want_m = isnan(own_m[s]) ? slide->stands_out_m : own_m[s];
        draw_m[s] =
            slide->valve < 0 ? 0.0 : fmin(fmax(want_m, 0.0), slide->travel_m);
    }
}

/* The horn as it stands at its own pitch, before anything broke. */
static struct hbk_setting own_setting(const struct hbk_horn *horn)
{
    struct hbk_setting own = hbk_setting_of(horn);
    own.stuck = (struct hbk_stuck){0};
    return own;
}

/* Whether the setting leaves the whole tube as the file has it. */
static bool is_own(const struct hbk_horn *horn,
                   const struct hbk_setting *setting)
{
    const bool is_moved_for_player =
        setting->as_played && horn->habit.offset_cents != 0.0;
    return !is_moved_for_player && setting->crook < 0 &&
           setting->mouthpiece == 0 && setting->a4_hz == horn->a4_hz &&
           setting->temperature_c == horn->temperature_c &&
           setting->stuck.slides == 0;
}

static enum hbk_status proportions(const struct hbk_horn *horn,
                                   const struct hbk_setting *setting,
                                   struct hbk_arena *arena, double own_m[],
                                   struct hbk_faults *faults)
{
    const struct hbk_setting own = own_setting(horn);
    struct hbk_setup before;
    struct hbk_setup now;
    struct hbk_faults told = {0};
    enum hbk_status status =
        hbk_tune_horn(horn, &own, NULL, arena, &before, &told);
    if (status == HBK_OK) {
        /* What stays off is told by whoever tunes the horn for good. */
        status = hbk_tune_horn(horn, setting, NULL, arena, &now, &told);
    }
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, faults);
        return status;
    }
    /* A valve's interval is the tube's: the player moves the main slide. */
    now.rig.as_played = false;
    return hbk_slides_proportion(horn, &before.rig, &now.rig, arena, own_m,
                                 faults);
}

enum hbk_status hbk_valve_slides_own(const struct hbk_horn *horn,
                                     const struct hbk_setting *setting,
                                     struct hbk_arena *arena, double own_m[],
                                     struct hbk_faults *faults)
{
    for (size_t s = 0; s < horn->n_slides; s++) {
        own_m[s] = horn->slides[s].valve < 0 ? (double)NAN
                                             : horn->slides[s].stands_out_m;
    }
    if (hbk_has_valve_slides(horn) && !is_own(horn, setting)) {
        HBK_TRY(proportions(horn, setting, arena, own_m, faults));
    }
    for (size_t s = 0; s < horn->n_slides; s++) {
        if (horn->slides[s].valve >= 0 &&
            (setting->stuck.slides >> s & 1U) != 0) {
            own_m[s] = setting->stuck.slide_out_m[s];
        }
    }
    return HBK_OK;
}

/* Everything one compromise needs. */
struct plan {
    const struct hbk_horn *horn;
    const struct hbk_setting *setting;
    struct hbk_arena *arena;
    struct hbk_faults *faults;
    const double *own_m;
};

/* The usual fingerings under the draws, as the fit wants them. */
static enum hbk_status choices(const struct plan *plan,
                               const struct hbk_setup *setup,
                               struct hbk_slides_use *use)
{
    struct hbk_notes notes;
    struct hbk_faults told = {0};
    const enum hbk_status status = hbk_solve_as_set(
        plan->horn, plan->setting, setup, plan->arena, &notes, &told);
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, plan->faults);
        return status;
    }
    struct hbk_slides_item *const items =
        HBK_ARENA_ARRAY(plan->arena, struct hbk_slides_item, notes.n);
    use->n = 0;
    use->items = items;
    for (size_t i = 0; i < notes.n; i++) {
        const struct hbk_note *const note = &notes.notes[i];
        if (note->n > 0 && !(note->fingerings[0].drawn_m > 0.0)) {
            items[use->n++] = (struct hbk_slides_item){
                .press =
                    note->fingerings[0].press | plan->setting->stuck.held_down,
                .partial = note->fingerings[0].partial,
                .target_hz = note->target_hz,
                .weight = hbk_notes_extreme(&notes, note->written) ? 0.5 : 1.0};
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

/* One turn: first choices under draw_m, and the draws they want. */
static enum hbk_status turn(const struct plan *plan, const double draw_m[],
                            double next_m[], double *sum)
{
    struct hbk_setup setup;
    struct hbk_slides_use use;
    struct hbk_faults told = {0};
    const enum hbk_status status = hbk_tune_horn(
        plan->horn, plan->setting, draw_m, plan->arena, &setup, &told);
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, plan->faults);
        return status;
    }
    HBK_TRY(choices(plan, &setup, &use));
    struct hbk_slides_fit fit = {.horn = plan->horn,
                                 .rig = &setup.rig,
                                 .stuck = plan->setting->stuck.slides,
                                 .use = &use,
                                 .prior_m = plan->own_m,
                                 .arena = plan->arena};
    HBK_TRY(hbk_slides_fit(&fit, next_m, plan->faults));
    *sum = fit.before;
    return HBK_OK;
}

enum hbk_status hbk_valve_slides_best(const struct hbk_horn *horn,
                                      const struct hbk_setting *setting,
                                      const double own_m[],
                                      struct hbk_arena *arena, double best_m[],
                                      struct hbk_faults *faults)
{
    enum { TURNS_MAX = 8 };
    static const double settled_m = 0.02e-3;
    const struct plan plan = {horn, setting, arena, faults, own_m};
    const size_t size = horn->n_slides * sizeof(double);
    double *const draw_m = HBK_ARENA_ARRAY(arena, double, horn->n_slides + 1);
    double *const next_m = HBK_ARENA_ARRAY(arena, double, horn->n_slides + 1);
    double least = INFINITY;
    bool settled = !hbk_has_valve_slides(horn);
    hbk_valve_slides_within(horn, own_m, draw_m);
    memcpy(best_m, draw_m, size);
    /*
     * Two sets of choices may lead to each other for ever; then the better of
     * what was met is kept.
     */
    for (int i = 0; i < TURNS_MAX && !settled; i++) {
        double sum = 0.0;
        HBK_TRY(turn(&plan, draw_m, next_m, &sum));
        if (sum < least) {
            least = sum;
            memcpy(best_m, draw_m, size);
        }
        settled = farthest_move(horn, next_m, draw_m) < settled_m;
        memcpy(draw_m, next_m, size);
        if (settled) {
            memcpy(best_m, draw_m, size);
        }
    }
    for (size_t s = 0; s < horn->n_slides; s++) {
        best_m[s] = horn->slides[s].valve < 0 ? (double)NAN : best_m[s];
    }
    return HBK_OK;
}
