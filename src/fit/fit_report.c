#include "fit/fit_report.h"

#include "base/messages.h"
#include "fit/parameter_value.h"
#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>

/* What a semitone's slip may lie off by chance, cents. */
static const double semitone_slack = 30.0;

/* A reading bears on a value that moves it by so much per prior sd, cents. */
static const double bearing_cents = 0.5;

/* From here on two values move together. */
static const double twin_correlation = 0.9;

void hbk_fitter_say_slip(const struct hbk_fitter *f,
                         const struct hbk_fit_reading *item)
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
static int alone_on(const struct hbk_fitter *f, size_t i)
{
    uint32_t alone = f->is_used[i] ? f->bound.items[i].pressed : 0;
    for (size_t k = 0; k < f->bound.n; k++) {
        if (k != i && f->is_used[k]) {
            alone &= ~f->bound.items[k].pressed;
        }
    }
    return alone == 0 ? -1 : __builtin_ctz(alone);
}

/* By length every partial has an error of its own. */
static bool is_alone_on_partial(const struct hbk_fitter *f, size_t i)
{
    bool is_alone = f->is_used[i] && f->horn->model == HBK_MODEL_LENGTH;
    for (size_t k = 0; k < f->bound.n; k++) {
        is_alone = is_alone &&
                   (k == i || !f->is_used[k] ||
                    f->bound.items[k].partial != f->bound.items[i].partial);
    }
    return is_alone;
}

/* What the player adds to a reading, which is linear in both parameters. */
static double habit_of(const struct hbk_fitter *f, size_t i)
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

struct hbk_fit_reading hbk_fitter_reading(const struct hbk_fitter *f, size_t i)
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
        .alone_cents = hbk_fitter_alone(f, i),
        .alone_sd = hbk_fitter_alone_sd(f, i),
        .alone_on = alone_on(f, i),
        .is_alone_on_partial = is_alone_on_partial(f, i),
    };
    if (item.state == HBK_FIT_SLIPPED &&
        fabs(fabs(item.alone_cents) - HBK_SEMITONE_CENTS) < semitone_slack) {
        item.semitones_off = item.alone_cents > 0.0 ? 1 : -1;
    }
    return item;
}

/* How far those that are followed lie off; of names only where all are. */
static void report_errors(struct hbk_fitter *f)
{
    struct hbk_fit_report *const report = &f->fit->report;
    const bool is_of_tuner = hbk_fitter_has_readings(f);
    double before = 0.0;
    double mean = 0.0;
    double after = 0.0;
    double without = 0.0;
    for (size_t i = 0; i < f->bound.n; i++) {
        if (!f->is_used[i] || (is_of_tuner && hbk_fitter_is_name(f, i))) {
            continue;
        }
        const double was = f->heard[i] - f->before[i];
        const double is = f->heard[i] - f->squares.predicted[i];
        report->n_judged++;
        mean += was;
        before += was * was;
        after += is * is;
        without += hbk_fitter_alone(f, i) * hbk_fitter_alone(f, i);
    }
    const double n = fmax((double)report->n_judged, 1.0);
    report->before_mean = mean / n;
    report->before_rms = sqrt(before / n);
    report->after_rms = sqrt(after / n);
    report->alone_rms = sqrt(without / n);
}

void hbk_fitter_report_readings(struct hbk_fitter *f)
{
    struct hbk_fit_report *const report = &f->fit->report;
    struct hbk_fit_reading *const items =
        HBK_ARENA_ARRAY(f->arena, struct hbk_fit_reading, f->bound.n + 1);
    for (size_t i = 0; i < f->bound.n; i++) {
        items[i] = hbk_fitter_reading(f, i);
        if (items[i].state == HBK_FIT_SLIPPED) {
            hbk_fitter_say_slip(f, &items[i]);
        }
        if (items[i].state == HBK_FIT_USED) {
            report->n_used++;
            report->names.n_used += hbk_fitter_is_name(f, i) ? 1 : 0;
        }
    }
    report->n = f->bound.n;
    report->names.n = f->n_names;
    report->names.cents =
        f->n_names > 0 ? report->readings->readings[0].uncertainty_cents : 0.0;
    report->items = items;
    report->model_cents = hbk_fitter_model_cents(f->horn);
    report_errors(f);
}

/* The value that moves most closely with value p; -1 for none. */
static int twin_of(const struct hbk_fitter *f, size_t p)
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

static size_t readings_of(const struct hbk_fitter *f, size_t p)
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
    static const struct {
        enum hbk_parameter_kind kind;
        enum hbk_fit_part part;
    } parts[] = {{HBK_FIT_LOOP, HBK_FIT_PART_LOOP},
                 {HBK_FIT_VOLUME, HBK_FIT_PART_CUP},
                 {HBK_FIT_FLARE, HBK_FIT_PART_FLARE},
                 {HBK_FIT_BEND, HBK_FIT_PART_SHAPE},
                 {HBK_FIT_HOLE_RAISE, HBK_FIT_PART_STEP},
                 {HBK_FIT_HOLE_SIZE, HBK_FIT_PART_HOLE},
                 {HBK_FIT_HOLE_PLACE, HBK_FIT_PART_PLACE}};
    for (size_t i = 0; i < sizeof(parts) / sizeof(parts[0]); i++) {
        if (parts[i].kind == parameter->kind) {
            return parts[i].part;
        }
    }
    return HBK_FIT_PART_OTHER;
}

void hbk_fitter_report_values(struct hbk_fitter *f)
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
        const double prior_sd = f->fit->prior_sd[p];
        values[p] = (struct hbk_fit_value){
            .what = hbk_parameter_words(parameters, p, f->arena),
            .unit = was.unit,
            .decimals = was.decimals,
            .before = was.value,
            .before_sd = fabs(was.per_d) * prior_sd,
            .after = is.value,
            .after_sd = fabs(is.per_d) * sd * sqrt(left),
            .n_readings = readings_of(f, p),
            .learned = fmax(1.0 - left, 0.0),
            .part = part_of(&parameters->items[p]),
            .moved = f->fit->d[p] / prior_sd,
            .is_let_go = sd > prior_sd,
            .is_players = hbk_parameter_is_players(&parameters->items[p]),
            .twin = twin_of(f, p),
        };
    }
    f->fit->report.n_values = k;
    f->fit->report.values = values;
}
