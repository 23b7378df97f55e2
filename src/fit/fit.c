#include "fit/fit.h"

#include "base/messages.h"
#include "fit/bind.h"
#include "fit/goodness.h"
#include "fit/names.h"
#include "fit/next.h"
#include "fit/parameter_value.h"
#include "fit/predict.h"
#include "fit/scatter.h"
#include "fit/squares.h"
#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>
#include <string.h>

/* Readings come back when the fit without them explains them so well. */
static const double back_within = 3.0;

/* What a semitone's slip may lie off by chance, cents. */
static const double semitone_slack = 30.0;

/* A reading bears on a value that moves it by so much per prior sd, cents. */
static const double bearing_cents = 0.5;

/* From here on two values move together. */
static const double twin_correlation = 0.9;

/* So often readings may come back. */
enum { SCATTER_TURNS = 4 };

struct fitter {
    const struct hbk_horn *horn;
    struct hbk_arena *arena;
    struct hbk_faults *faults;
    struct hbk_fit *fit;
    struct hbk_bound_readings bound;
    struct hbk_soundings soundings;
    struct hbk_squares squares;
    double *heard, *sd, *before, *bend;
    bool *is_used;
    size_t n_used;
    size_t n_names;   /* readings that are names of keys */
    bool is_doubtful; /* more than a third are not explained */
};

static double model_cents(const struct hbk_horn *horn)
{
    return horn->model == HBK_MODEL_BORE ? HBK_FIT_MODEL_BORE_CENTS
                                         : HBK_FIT_MODEL_LENGTH_CENTS;
}

static void prepare(struct fitter *f)
{
    const size_t n = f->bound.n;
    const size_t k = f->fit->parameters.n;
    struct hbk_sounding *const items =
        HBK_ARENA_ARRAY(f->arena, struct hbk_sounding, n + 1);
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
        items[i] = (struct hbk_sounding){.press = bound->pressed,
                                         .rig = bound->rig,
                                         .partial = bound->partial,
                                         .reference_hz = bound->note_hz,
                                         .is_name = bound->reading->is_name};
        f->heard[i] = bound->reading->cents;
        f->sd[i] =
            hypot(bound->reading->uncertainty_cents, model_cents(f->horn));
        f->bend[i] =
            bound->reading->is_name ? HBK_NAMES_BEND_CENTS : (double)INFINITY;
        f->is_used[i] = bound->state == HBK_BOUND;
    }
    f->soundings = (struct hbk_soundings){.n = n,
                                          .items = items,
                                          .n_rigs = f->bound.n_rigs,
                                          .rigs = f->bound.rigs};
    hbk_soundings_prepare(&f->soundings, f->arena);
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

/* What was heard less what the fit to the others says. */
static double alone(const struct fitter *f, size_t i)
{
    const double rest = f->heard[i] - f->squares.predicted[i];
    return f->is_used[i] ? rest / (1.0 - f->squares.leverage[i]) : rest;
}

/* How far that may be off by chance. */
static double alone_sd(const struct fitter *f, size_t i)
{
    const size_t k = f->fit->parameters.n;
    if (f->is_used[i]) {
        return f->sd[i] / sqrt(1.0 - f->squares.leverage[i]);
    }
    const double variance =
        hbk_squares_variance(k, &f->squares.slopes[i * k], f->squares.cov);
    return sqrt((f->sd[i] * f->sd[i]) + variance);
}

static bool is_name(const struct fitter *f, size_t i)
{
    return f->bound.items[i].reading->is_name;
}

/*
 * The reading that fits the others worst; names are none, they count for less
 * the further they are off; n when all fit.
 */
static size_t worst(const struct fitter *f)
{
    size_t at = f->bound.n;
    double most = HBK_FIT_SLIP;
    for (size_t i = 0; i < f->bound.n; i++) {
        const double off = fabs(alone(f, i)) / alone_sd(f, i);
        if (f->is_used[i] && !is_name(f, i) && off > most) {
            most = off;
            at = i;
        }
    }
    return at;
}

/* Readings set aside that the others explain after all; how many came. */
static size_t take_back(struct fitter *f)
{
    size_t n = 0;
    for (size_t i = 0; i < f->bound.n; i++) {
        if (!f->is_used[i] && f->bound.items[i].state == HBK_BOUND &&
            fabs(alone(f, i)) < back_within * alone_sd(f, i)) {
            f->is_used[i] = true;
            n++;
        }
    }
    return n;
}

static enum hbk_status leave_out_slips(struct fitter *f)
{
    const size_t most = f->bound.n / 3;
    size_t set_aside = 0;
    bool has_taken_back = false;
    HBK_TRY(hbk_squares_solve(&f->squares));
    for (;;) {
        const size_t at = worst(f);
        if (at < f->bound.n && set_aside < most) {
            f->is_used[at] = false;
            set_aside++;
        } else if (has_taken_back || take_back(f) == 0) {
            f->is_doubtful = at < f->bound.n;
            return HBK_OK;
        } else {
            has_taken_back = true;
        }
        HBK_TRY(hbk_squares_solve(&f->squares));
    }
}

/* See HBK_FIT_SCATTER_CHANCE. */
static bool is_scattered(const struct fitter *f)
{
    double sum = 0.0;
    double freedom = 0.0;
    for (size_t i = 0; i < f->bound.n; i++) {
        if (f->is_used[i] && !is_name(f, i)) {
            const double rest = f->heard[i] - f->squares.predicted[i];
            sum += rest * rest / (f->sd[i] * f->sd[i]);
            freedom += 1.0 - f->squares.leverage[i];
        }
    }
    return freedom >= 1.0 && hbk_chi_square_tail(sum, (size_t)lround(freedom)) <
                                 HBK_FIT_SCATTER_CHANCE;
}

/* Whether any is followed that is not a name. */
static bool has_readings(const struct fitter *f)
{
    bool has = false;
    for (size_t i = 0; i < f->bound.n; i++) {
        has = has || (f->is_used[i] && !is_name(f, i));
    }
    return has;
}

/*
 * Readings are as uncertain as they scatter, slips aside; what comes back for
 * that may tell of more scatter. Names are no readings: theirs stays.
 */
static enum hbk_status follow_scatter(struct fitter *f)
{
    f->fit->report.scatter = 1.0;
    f->fit->report.is_scattered = is_scattered(f);
    if (!has_readings(f)) {
        return HBK_OK;
    }
    for (int i = 0; i < SCATTER_TURNS; i++) {
        const double was = f->fit->report.scatter;
        const double by = hbk_fit_scatter(&f->squares, was) / was;
        f->fit->report.scatter *= by;
        for (size_t k = 0; k < f->bound.n; k++) {
            f->sd[k] *= is_name(f, k) ? 1.0 : by;
        }
        HBK_TRY(hbk_squares_solve(&f->squares));
        if (take_back(f) == 0) {
            return HBK_OK;
        }
        HBK_TRY(hbk_squares_solve(&f->squares));
    }
    return HBK_OK;
}

static void say_slip(const struct fitter *f, const struct hbk_fit_reading *item)
{
    char name[HBK_NAME_SIZE];
    hbk_note_name(item->reading->note, HBK_ASCII, name);
    hbk_fault_warn(
        f->faults, item->reading->place, HBK_H_READING_SLIP,
        "%s with %.40s reads %.0f cents %s than the other readings allow, "
        "and is not used%s; read it again",
        name, item->reading->fingering, fabs(item->alone_cents),
        item->alone_cents > 0.0 ? "sharper" : "flatter",
        item->semitones_off == 0  ? ""
        : item->semitones_off > 0 ? " (a semitone higher was played or "
                                    "pressed, perhaps)"
                                  : " (a semitone lower was played or "
                                    "pressed, perhaps)");
}

/* See struct hbk_fit_reading. */
static int alone_on(const struct fitter *f, size_t i)
{
    uint32_t alone = f->is_used[i] ? f->bound.items[i].pressed : 0;
    for (size_t k = 0; k < f->bound.n; k++) {
        if (k != i && f->is_used[k]) {
            alone &= ~f->bound.items[k].pressed;
        }
    }
    return alone == 0 ? -1 : __builtin_ctz(alone);
}

/* What the player adds to a reading, which is linear in both parameters. */
static double habit_of(const struct fitter *f, size_t i)
{
    const struct hbk_parameters *const parameters = &f->fit->parameters;
    double sum = 0.0;
    for (size_t p = 0; p < parameters->n; p++) {
        if (hbk_parameter_is_players(&parameters->items[p])) {
            sum += f->squares.slopes[(i * parameters->n) + p] *
                   hbk_parameter_value(parameters, p, f->fit->d[p]).value /
                   parameters->items[p].sd;
        }
    }
    return sum;
}

static struct hbk_fit_reading reading_of(const struct fitter *f, size_t i)
{
    const struct hbk_bound *const bound = &f->bound.items[i];
    struct hbk_fit_reading item = {
        .reading = bound->reading,
        .state = f->is_used[i]               ? HBK_FIT_USED
                 : bound->state == HBK_BOUND ? HBK_FIT_SLIPPED
                                             : HBK_FIT_FAR,
        .written = bound->written,
        .press = bound->press,
        .partial = bound->partial,
        .before_cents = f->before[i],
        .after_cents = f->squares.predicted[i],
        .horn_cents = f->squares.predicted[i] - habit_of(f, i),
        .alone_cents = alone(f, i),
        .alone_sd = alone_sd(f, i),
        .alone_on = alone_on(f, i),
    };
    if (item.state == HBK_FIT_SLIPPED &&
        fabs(fabs(item.alone_cents) - HBK_SEMITONE_CENTS) < semitone_slack) {
        item.semitones_off = item.alone_cents > 0.0 ? 1 : -1;
    }
    return item;
}

static void report_readings(struct fitter *f)
{
    struct hbk_fit_report *const report = &f->fit->report;
    struct hbk_fit_reading *const items =
        HBK_ARENA_ARRAY(f->arena, struct hbk_fit_reading, f->bound.n + 1);
    double before = 0.0;
    double mean = 0.0;
    double after = 0.0;
    double without = 0.0;
    for (size_t i = 0; i < f->bound.n; i++) {
        items[i] = reading_of(f, i);
        if (items[i].state == HBK_FIT_SLIPPED) {
            say_slip(f, &items[i]);
        }
        if (items[i].state != HBK_FIT_USED) {
            continue;
        }
        const double was = f->heard[i] - f->before[i];
        const double is = f->heard[i] - f->squares.predicted[i];
        report->n_used++;
        report->names.n_used += is_name(f, i) ? 1 : 0;
        mean += was;
        before += was * was;
        after += is * is;
        without += items[i].alone_cents * items[i].alone_cents;
    }
    const double n = fmax((double)report->n_used, 1.0);
    report->n = f->bound.n;
    report->names.n = f->n_names;
    report->names.cents =
        f->n_names > 0 ? report->readings->readings[0].uncertainty_cents : 0.0;
    report->items = items;
    report->before_mean = mean / n;
    report->before_rms = sqrt(before / n);
    report->after_rms = sqrt(after / n);
    report->alone_rms = sqrt(without / n);
    report->model_cents = model_cents(f->horn);
}

/* The value that moves most closely with value p; -1 for none. */
static int twin_of(const struct fitter *f, size_t p)
{
    const size_t k = f->fit->parameters.n;
    const double *const cov = f->fit->cov;
    double most = twin_correlation;
    int twin = -1;
    for (size_t q = 0; q < k; q++) {
        const double together =
            fabs(cov[(p * k) + q]) / sqrt(cov[(p * k) + p] * cov[(q * k) + q]);
        if (q != p && together > most) {
            most = together;
            twin = (int)q;
        }
    }
    return twin;
}

static size_t readings_of(const struct fitter *f, size_t p)
{
    const size_t k = f->fit->parameters.n;
    size_t n = 0;
    for (size_t i = 0; i < f->bound.n; i++) {
        n += f->is_used[i] &&
                     fabs(f->squares.slopes[(i * k) + p]) >= bearing_cents
                 ? 1
                 : 0;
    }
    return n;
}

static enum hbk_fit_part part_of(const struct hbk_parameter *parameter)
{
    return parameter->kind == HBK_FIT_LOOP     ? HBK_FIT_PART_LOOP
           : parameter->kind == HBK_FIT_VOLUME ? HBK_FIT_PART_CUP
           : parameter->kind == HBK_FIT_FLARE  ? HBK_FIT_PART_FLARE
           : parameter->kind == HBK_FIT_BEND   ? HBK_FIT_PART_SHAPE
                                               : HBK_FIT_PART_OTHER;
}

static void report_values(struct fitter *f)
{
    const struct hbk_parameters *const parameters = &f->fit->parameters;
    const size_t k = parameters->n;
    struct hbk_fit_value *const values =
        HBK_ARENA_ARRAY(f->arena, struct hbk_fit_value, k + 1);
    for (size_t p = 0; p < k; p++) {
        const struct hbk_parameter_value was =
            hbk_parameter_value(parameters, p, 0.0);
        const struct hbk_parameter_value is =
            hbk_parameter_value(parameters, p, f->fit->d[p]);
        const double left = f->fit->cov[(p * k) + p];
        const double sd = parameters->items[p].sd;
        values[p] = (struct hbk_fit_value){
            .what = hbk_parameter_words(parameters, p, f->arena),
            .unit = was.unit,
            .decimals = was.decimals,
            .before = was.value,
            .before_sd = fabs(was.per_d) * sd,
            .after = is.value,
            .after_sd = fabs(is.per_d) * sd * sqrt(left),
            .n_readings = readings_of(f, p),
            .learned = fmax(1.0 - left, 0.0),
            .part = part_of(&parameters->items[p]),
            .moved = f->fit->d[p] / sd,
            .is_players = hbk_parameter_is_players(&parameters->items[p]),
            .twin = twin_of(f, p),
        };
    }
    f->fit->report.n_values = k;
    f->fit->report.values = values;
}

static void count_used(struct fitter *f)
{
    f->n_used = 0;
    for (size_t i = 0; i < f->bound.n; i++) {
        f->n_used += f->is_used[i] ? 1 : 0;
    }
}

/* Names that belong to no note count as if they were as far off as may be. */
static double sum_of_far_names(const struct fitter *f)
{
    double sum = 0.0;
    for (size_t i = 0; i < f->bound.n; i++) {
        if (is_name(f, i) && !f->is_used[i]) {
            sum += hbk_squares_share(HBK_BOUND_FAR_CENTS, f->sd[i], f->bend[i]);
        }
    }
    return sum;
}

/* The fit itself, without a word about it. */
static enum hbk_status find(struct fitter *f)
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
    if (hbk_predict(&fit->parameters, fit->d, &f->soundings,
                    f->squares.predicted, f->before) != HBK_OK ||
        leave_out_slips(f) != HBK_OK || follow_scatter(f) != HBK_OK) {
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
static size_t explained_by(const struct fitter *f, int written_c4)
{
    struct hbk_readings *const readings =
        HBK_ARENA_ARRAY(f->arena, struct hbk_readings, 1);
    struct hbk_fit *const fit = HBK_ARENA_ARRAY(f->arena, struct hbk_fit, 1);
    *readings = *f->fit->report.readings;
    readings->has_written_c4 = true;
    readings->written_c4_sounds = written_c4;
    fit->report.readings = readings;
    struct fitter other = {
        .horn = f->horn,
        .arena = f->arena,
        .faults = HBK_ARENA_ARRAY(f->arena, struct hbk_faults, 1),
        .fit = fit,
    };
    return find(&other) == HBK_OK && !other.is_doubtful ? other.n_used : 0;
}

/* Whether the notes are concert names, or the other way round: nine in ten. */
static bool say_other_names(const struct fitter *f, struct hbk_faults *faults)
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
static void say_doubtful(const struct fitter *f)
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
        const struct hbk_fit_reading item = reading_of(f, i);
        if (item.state == HBK_FIT_SLIPPED) {
            say_slip(f, &item);
        }
    }
    hbk_fault_add(f->faults, file, HBK_H_MANY_SLIPS,
                  "%zu of the %zu readings belong to no note of this horn or "
                  "contradict the others: a third at most may, so nothing is "
                  "fitted; check that the horn file describes this horn, its "
                  "keys, valves and crook, and how the notes are named",
                  f->bound.n - f->n_used, f->bound.n);
}

enum hbk_status hbk_fit_horn(const struct hbk_horn *horn,
                             const struct hbk_readings *readings,
                             struct hbk_arena *arena, struct hbk_fit *fit,
                             struct hbk_faults *faults)
{
    struct hbk_faults *const told =
        HBK_ARENA_ARRAY(arena, struct hbk_faults, 1);
    *fit = (struct hbk_fit){.report = {.horn = horn, .readings = readings}};
    struct fitter f = {
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
        report_readings(&f);
        report_values(&f);
        hbk_fit_find_next(fit, arena);
    }
    hbk_faults_hand_on(told, faults);
    return status;
}

void hbk_fit_unread(const struct hbk_horn *horn, const struct hbk_stuck *stuck,
                    struct hbk_arena *arena, struct hbk_fit *fit)
{
    *fit = (struct hbk_fit){
        .stuck = *stuck,
        .report = {.horn = horn, .model_cents = model_cents(horn)}};
    hbk_parameters_list(horn, &fit->parameters);
    const size_t k = fit->parameters.n;
    fit->d = HBK_ARENA_ARRAY(arena, double, k + 1);
    fit->cov = HBK_ARENA_ARRAY(arena, double, (k * k) + 1);
    for (size_t p = 0; p < k; p++) {
        fit->cov[(p * k) + p] = 1.0;
    }
    hbk_fit_find_next(fit, arena);
}
