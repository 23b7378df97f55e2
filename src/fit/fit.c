#include "fit/fit.h"

#include "base/messages.h"
#include "fit/fit_report.h"
#include "fit/let_go.h"
#include "fit/names.h"
#include "fit/next.h"
#include "fit/slips.h"
#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>
#include <string.h>

/* What the file says of every parameter. */
static double *prior_sds(const struct hbk_parameters *parameters,
                         struct hbk_arena *arena)
{
    double *const sd = HBK_ARENA_ARRAY(arena, double, parameters->n + 1);
    for (size_t p = 0; p < parameters->n; p++) {
        sd[p] = parameters->items[p].sd;
    }
    return sd;
}

static void prepare(struct hbk_fitter *f)
{
    const size_t n = f->bound.n;
    const size_t k = f->fit->parameters.n;
    f->asked = HBK_ARENA_ARRAY(f->arena, struct hbk_sounding, n + 1);
    f->heard = HBK_ARENA_ARRAY(f->arena, double, n + 1);
    f->sd = HBK_ARENA_ARRAY(f->arena, double, n + 1);
    f->before = HBK_ARENA_ARRAY(f->arena, double, n + 1);
    f->bend = HBK_ARENA_ARRAY(f->arena, double, n + 1);
    f->is_used = HBK_ARENA_ARRAY(f->arena, bool, n + 1);
    double *const predicted = HBK_ARENA_ARRAY(f->arena, double, n + 1);
    for (size_t i = 0; i < n; i++) {
        const struct hbk_bound *const bound = &f->bound.items[i];
        predicted[i] = bound->peak_hz > 0.0
                           ? hbk_cents(bound->peak_hz, bound->note_hz)
                           : (double)NAN;
        f->asked[i] = (struct hbk_sounding){.press = bound->pressed,
                                            .rig = bound->rig,
                                            .partial = bound->partial,
                                            .reference_hz = bound->note_hz,
                                            .is_name = bound->reading->is_name};
        f->heard[i] = bound->reading->cents;
        f->sd[i] = hypot(bound->reading->uncertainty_cents,
                         hbk_fitter_model_cents(f->horn));
        f->bend[i] =
            bound->reading->is_name ? HBK_NAMES_BEND_CENTS : (double)INFINITY;
        f->is_used[i] = bound->state == HBK_BOUND;
    }
    f->soundings = (struct hbk_soundings){.n = n,
                                          .items = f->asked,
                                          .n_rigs = f->bound.n_rigs,
                                          .rigs = f->bound.rigs};
    hbk_soundings_prepare(&f->soundings, f->arena);
    f->fit->prior_sd = prior_sds(&f->fit->parameters, f->arena);
    f->fit->d = HBK_ARENA_ARRAY(f->arena, double, k + 1);
    f->fit->cov = HBK_ARENA_ARRAY(f->arena, double, (k * k) + 1);
    f->squares = (struct hbk_squares){
        .parameters = &f->fit->parameters,
        .soundings = &f->soundings,
        .heard = f->heard,
        .sd = f->sd,
        .is_used = f->is_used,
        .bend = f->bend,
        .d = f->fit->d,
        .predicted = predicted,
        .slopes = HBK_ARENA_ARRAY(f->arena, double, (n * k) + 1),
        .cov = f->fit->cov,
        .leverage = HBK_ARENA_ARRAY(f->arena, double, n + 1),
        .strayed = INFINITY,
    };
}

static void count_used(struct hbk_fitter *f)
{
    f->n_used = 0;
    for (size_t i = 0; i < f->bound.n; i++) {
        f->n_used += f->is_used[i] ? 1 : 0;
    }
}

/* Names that belong to no note count as if they were as far off as may be. */
static double sum_of_far_names(const struct hbk_fitter *f)
{
    double sum = 0.0;
    for (size_t i = 0; i < f->bound.n; i++) {
        if (hbk_fitter_is_name(f, i) && !f->is_used[i]) {
            sum += hbk_squares_share(HBK_BOUND_FAR_CENTS, f->sd[i], f->bend[i]);
        }
    }
    return sum;
}

/* Fits; HBK_ERR_DOMAIN when the horn cannot be computed. */
static enum hbk_status follow(struct hbk_fitter *f)
{
    HBK_TRY(hbk_predict(&f->fit->parameters, f->fit->d, &f->soundings,
                        f->squares.predicted, f->before));
    HBK_TRY(hbk_fitter_leave_out_slips(f));
    HBK_TRY(hbk_fitter_let_go(f));
    return hbk_fitter_follow_scatter(f);
}

/* The fit itself, without a word about it. */
static enum hbk_status find(struct hbk_fitter *f)
{
    struct hbk_fit *const fit = f->fit;
    if (f->n_names > 0) {
        hbk_parameters_list_named(f->horn, f->n_names < fit->report.readings->n,
                                  &fit->parameters);
    } else {
        hbk_parameters_list(f->horn, &fit->parameters);
    }
    HBK_TRY(hbk_readings_bind(fit->report.readings, f->horn, f->arena,
                              &f->bound, f->faults));
    fit->stuck = f->bound.stuck;
    prepare(f);
    count_used(f);
    if (f->n_used == 0) {
        f->is_doubtful = true;
        fit->sum = sum_of_far_names(f);
        return HBK_OK;
    }
    if (follow(f) != HBK_OK) {
        hbk_fault_add(f->faults, (struct hbk_place){.file = f->horn->path},
                      HBK_H_NO_FIT,
                      "this horn cannot be computed any more when its numbers "
                      "are changed by as little as they may be off; check its "
                      "holes and its bore");
        return HBK_ERR_DOMAIN;
    }
    count_used(f);
    fit->sum = f->squares.sum + sum_of_far_names(f);
    f->is_doubtful =
        f->is_doubtful || 3 * (f->bound.n - f->n_used) > f->bound.n;
    return HBK_OK;
}

/*
 * How many readings the horn explains if the file calls C4 what sounds as
 * written_c4; 0 when that is doubtful too.
 */
static size_t explained_by(const struct hbk_fitter *f, int written_c4)
{
    struct hbk_readings *const readings =
        HBK_ARENA_ARRAY(f->arena, struct hbk_readings, 1);
    struct hbk_fit *const fit = HBK_ARENA_ARRAY(f->arena, struct hbk_fit, 1);
    *readings = *f->fit->report.readings;
    readings->has_written_c4 = true;
    readings->written_c4_sounds = written_c4;
    fit->report.readings = readings;
    struct hbk_fitter other = {
        .horn = f->horn,
        .arena = f->arena,
        .faults = HBK_ARENA_ARRAY(f->arena, struct hbk_faults, 1),
        .fit = fit,
    };
    return find(&other) == HBK_OK && !other.is_doubtful ? other.n_used : 0;
}

/* Whether the notes are concert names, or the other way round: nine in ten. */
static bool say_other_names(const struct hbk_fitter *f,
                            struct hbk_faults *faults)
{
    const struct hbk_readings *const readings = f->fit->report.readings;
    const int own = f->horn->written_c4_sounds;
    const int here =
        readings->has_written_c4 ? readings->written_c4_sounds : own;
    const int other = here == own ? HBK_NOTE_C4 : own;
    const size_t n = here == other ? 0 : explained_by(f, other);
    if (10 * n < 9 * f->bound.n) {
        return false;
    }
    char name[HBK_NAME_SIZE];
    hbk_note_name(other, HBK_ASCII, name);
    hbk_fault_add(faults, (struct hbk_place){.file = readings->path},
                  HBK_H_OTHER_NAMES,
                  "this horn explains %zu of the %zu readings as they are "
                  "named, but %zu if they are %s; write 'written_c4_sounds: "
                  "%s' if that is so",
                  f->n_used, f->bound.n, n,
                  other == own ? "the notes written for it"
                               : "the names the tuner shows (concert names)",
                  name);
    return true;
}

/* Why nothing is fitted to these readings. */
static void say_doubtful(const struct hbk_fitter *f)
{
    const struct hbk_place file = {.file = f->fit->report.readings->path};
    if (f->n_used == 0) {
        hbk_fault_add(f->faults, file, HBK_H_NO_READING,
                      "none of the readings belongs to a note of this horn; "
                      "check that the notes are written for it, or say in "
                      "'written_c4_sounds' what the tuner's C4 is");
        return;
    }
    for (size_t i = 0; i < f->bound.n; i++) {
        const struct hbk_fit_reading item = hbk_fitter_reading(f, i);
        if (item.state == HBK_FIT_SLIPPED) {
            hbk_fitter_say_slip(f, &item);
        }
    }
    /* What scatters so far that nothing contradicts it any more, did once. */
    const size_t n_off = f->bound.n - f->n_used;
    const char *const many =
        3 * n_off > f->bound.n
            ? hbk_arena_printf(f->arena, "%zu", n_off)
            : hbk_arena_printf(f->arena, "more than %zu", f->bound.n / 3);
    hbk_fault_add(f->faults, file, HBK_H_MANY_SLIPS,
                  "%s of the %zu readings belong to no note of this horn or "
                  "contradict the others: a third at most may, so nothing is "
                  "fitted; check that the horn file describes this horn, its "
                  "keys, valves, slides and crook, and how the notes are named",
                  many, f->bound.n);
}

enum hbk_status hbk_fit_horn(const struct hbk_horn *horn,
                             const struct hbk_readings *readings,
                             struct hbk_arena *arena, struct hbk_fit *fit,
                             struct hbk_faults *faults)
{
    struct hbk_faults *const told =
        HBK_ARENA_ARRAY(arena, struct hbk_faults, 1);
    *fit = (struct hbk_fit){.report = {.horn = horn, .readings = readings}};
    struct hbk_fitter f = {
        .horn = horn, .arena = arena, .faults = told, .fit = fit};
    for (size_t i = 0; i < readings->n; i++) {
        f.n_names += readings->readings[i].is_name ? 1 : 0;
    }
    enum hbk_status status = find(&f);
    if (status == HBK_OK && f.is_doubtful) {
        status = HBK_ERR_INPUT;
        if (f.n_names == 0 && say_other_names(&f, faults)) {
            return status;
        }
        say_doubtful(&f);
    }
    if (status == HBK_OK) {
        hbk_fitter_report_readings(&f);
        hbk_fitter_report_values(&f);
        hbk_fit_find_next(fit, arena);
        fit->report.unread_cents =
            fmax(fit->report.alone_rms, fit->report.notes_sd_after);
    }
    hbk_faults_hand_on(told, faults);
    return status;
}

void hbk_fit_unread(const struct hbk_horn *horn, const struct hbk_stuck *stuck,
                    struct hbk_arena *arena, struct hbk_fit *fit)
{
    *fit = (struct hbk_fit){
        .stuck = *stuck,
        .report = {.horn = horn, .model_cents = hbk_fitter_model_cents(horn)}};
    hbk_parameters_list(horn, &fit->parameters);
    const size_t k = fit->parameters.n;
    fit->prior_sd = prior_sds(&fit->parameters, arena);
    fit->d = HBK_ARENA_ARRAY(arena, double, k + 1);
    fit->cov = HBK_ARENA_ARRAY(arena, double, (k * k) + 1);
    for (size_t p = 0; p < k; p++) {
        fit->cov[(p * k) + p] = 1.0;
    }
    hbk_fit_find_next(fit, arena);
}
