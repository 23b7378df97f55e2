#ifndef HBK_TESTS_FITTING_H
#define HBK_TESTS_FITTING_H

#include "support/rng.h"
#include "support/solved.h"

#include "fit/fit.h"
#include "fit/predict.h"
#include "horn/horn.h"

#include <stdlib.h>

/*
 * A horn of known errors, read by a tuner of known noise: readings are made
 * from the shipped horn with every uncertain number put off by chance.
 */
enum { FITTING_MOST = 64 };

struct fitting {
    struct solved base;               /* what the player's file says */
    struct hbk_parameters parameters; /* of the base */
    double truth[HBK_PARAMETERS_MAX];
    struct hbk_reading_set set;
    struct hbk_readings readings;
    struct hbk_reading items[FITTING_MOST];
    /* The same as soundings, and then every other note that is asked for. */
    size_t n_asked;
    const char *label[2 * FITTING_MOST];
    struct hbk_sounding asked[2 * FITTING_MOST];
    double true_cents[2 * FITTING_MOST];
    struct hbk_rig rig;
    double draw_m[16];
    struct hbk_soundings soundings;
};

static inline void fitting_open(struct fitting *f, const char *horn)
{
    memset(f, 0, sizeof(*f));
    solved_open(&f->base, horn);
    hbk_parameters_list(&f->base.horn, &f->parameters);
}

static inline void fitting_close(struct fitting *f)
{
    solved_close(&f->base);
}

/* What was asked for, on the horn with its slides as they stand, as played. */
static inline void fitting_set_up(struct fitting *f)
{
    const struct hbk_horn *const horn = &f->base.horn;
    for (size_t s = 0; s < horn->n_slides; s++) {
        f->draw_m[s] = horn->slides[s].stands_out_m;
    }
    f->rig = (struct hbk_rig){.temperature_c = horn->temperature_c,
                              .crook = -1,
                              .draw_m = f->draw_m,
                              .as_played = true};
    f->soundings = (struct hbk_soundings){
        .n = f->n_asked, .items = f->asked, .n_rigs = 1, .rigs = &f->rig};
    hbk_soundings_prepare(&f->soundings, &f->base.arena);
}

/* "C4=0 D4=1-3 ...": the notes to be asked for, with their fingerings. */
static inline void fitting_ask(struct fitting *f, const char *list)
{
    const struct hbk_horn *const horn = &f->base.horn;
    const char *at = list;
    while (*at != '\0') {
        char note[32];
        const size_t length = strcspn(at, " ");
        assert_true(length < sizeof(note) && f->n_asked < 2 * FITTING_MOST);
        memcpy(note, at, length);
        note[length] = '\0';
        at += length + (at[length] == ' ' ? 1 : 0);
        char *const label = strchr(note, '=');
        assert_non_null(label);
        *label = '\0';
        const int written = note_of(note);
        const struct hbk_fingering *const fingering =
            fingering_of(&f->base, note, label + 1, 0);
        if (fingering == NULL) {
            print_error("%s has no %s\n", note, label + 1);
        }
        assert_non_null(fingering);
        f->label[f->n_asked] =
            hbk_arena_printf(&f->base.arena, "%s", label + 1);
        f->asked[f->n_asked] = (struct hbk_sounding){
            .press = fingering->press,
            .partial = fingering->partial,
            .reference_hz = hbk_note_hz(
                written + horn->written_c4_sounds - HBK_NOTE_C4, horn->a4_hz)};
        if (f->n_asked < FITTING_MOST) {
            f->items[f->n_asked].note = written;
        }
        f->n_asked++;
    }
    fitting_set_up(f);
}

/* How far the numbers of the true horn are off, by kind. */
static inline double fitting_spread(enum hbk_parameter_kind kind, double sd)
{
    switch (kind) {
    case HBK_FIT_PITCH: /* cents */
        return 40.0;
    case HBK_FIT_LOOP: /* 3 % */
        return 0.03;
    case HBK_FIT_STRETCH: /* cents */
        return 8.0;
    case HBK_FIT_HOLE_RAISE: /* semitones */
        return 0.15;
    case HBK_FIT_SLOPE: /* habits and waves of the bore are given by hand */
    case HBK_FIT_BEND:
        return 0.0;
    case HBK_FIT_LENGTH:
    case HBK_FIT_OFFSET:
    case HBK_FIT_HOLE_PLACE:
    case HBK_FIT_HOLE_SIZE:
    case HBK_FIT_VOLUME:
    case HBK_FIT_FLARE:
    case HBK_FIT_CROOK:
    case HBK_FIT_WAVE:
    case HBK_FIT_THROAT:
    case HBK_FIT_HOLES_SHIFT:
    case HBK_FIT_HOLES_SCALE:
    case HBK_FIT_HOLES_SIZE:
    case HBK_FIT_CHIMNEYS:
    case HBK_FIT_PADS:
    case HBK_FIT_NAMES_PITCH:
        break;
    }
    return 0.75 * sd;
}

/*
 * cents[] of all that is asked for with the deviations d: the resonances of
 * the file, followed on the way there. NAN for what is lost.
 */
static inline void fitting_follow(const struct fitting *f, const double d[],
                                  double cents[])
{
    const bool is_length = f->base.horn.model == HBK_MODEL_LENGTH;
    const int steps = is_length ? 1 : 4;
    double near[2 * FITTING_MOST];
    double here[HBK_PARAMETERS_MAX] = {0};
    assert_int_equal(
        hbk_predict(&f->parameters, here, &f->soundings, NULL, near), HBK_OK);
    for (int step = 1; step <= steps; step++) {
        for (size_t p = 0; p < f->parameters.n; p++) {
            here[p] = d[p] * step / steps;
        }
        assert_int_equal(
            hbk_predict(&f->parameters, here, &f->soundings, near, cents),
            HBK_OK);
        for (size_t i = 0; i < f->n_asked; i++) {
            near[i] = isnan(cents[i]) ? near[i] : cents[i];
        }
    }
}

/* A true horn, and what all that is asked for sounds on it. */
static inline void fitting_build(struct fitting *f, struct rng *rng)
{
    for (size_t p = 0; p < f->parameters.n; p++) {
        const struct hbk_parameter *const item = &f->parameters.items[p];
        const double spread = fitting_spread(item->kind, item->sd);
        f->truth[p] = spread > 0.0 ? spread * rng_normal(rng) : 0.0;
    }
    fitting_follow(f, f->truth, f->true_cents);
}

/* The first n that were asked for, read with so much noise. */
static inline void fitting_read(struct fitting *f, size_t n, double noise_cents,
                                struct rng *rng)
{
    assert_true(n <= FITTING_MOST && n <= f->n_asked);
    for (size_t i = 0; i < n; i++) {
        struct hbk_reading *const item = &f->items[i];
        item->place = (struct hbk_place){"made.yaml", (unsigned)i + 1, 1};
        item->fingering = f->label[i];
        item->partial = 0;
        item->cents = f->true_cents[i] + (noise_cents * rng_normal(rng));
        item->uncertainty_cents = 3.0;
        item->a4_hz = f->base.horn.a4_hz;
        item->temperature_c = f->base.horn.temperature_c;
        item->set = &f->set;
    }
    f->readings = (struct hbk_readings){
        .path = "made.yaml", .n = n, .readings = f->items};
}

/* All that was asked for, on the fitted horn. */
static inline void fitting_predict(const struct fitting *f,
                                   const struct hbk_fit *fit, double cents[])
{
    fitting_follow(f, fit->d, cents);
}

/* Root mean square of the error of those from `first` on. */
static inline double fitting_error(const struct fitting *f,
                                   const double cents[], size_t first)
{
    double sum = 0.0;
    for (size_t i = first; i < f->n_asked; i++) {
        sum += (cents[i] - f->true_cents[i]) * (cents[i] - f->true_cents[i]);
    }
    return sqrt(sum / (double)(f->n_asked - first));
}

static inline int fitting_by_size(const void *a, const void *b)
{
    const double *const x = a;
    const double *const y = b;
    return (*x > *y) - (*x < *y);
}

static inline double fitting_median(size_t n, double values[])
{
    qsort(values, n, sizeof(*values), fitting_by_size);
    return 0.5 * (values[(n - 1) / 2] + values[n / 2]);
}

static inline void fitting_fit(struct fitting *f, struct hbk_fit *fit,
                               struct hbk_arena *arena)
{
    struct hbk_faults faults = {0};
    const enum hbk_status status =
        hbk_fit_horn(&f->base.horn, &f->readings, arena, fit, &faults);
    if (status != HBK_OK) {
        print_error("%s\n", faults.items[0].text);
    }
    assert_int_equal(status, HBK_OK);
}

/*
 * A reading put off by `slip` cents is flagged, and no note moves by more
 * than 2 cents from where the fit without that reading has it.
 */
static inline void fitting_check_slip(struct fitting *f, size_t at, double slip)
{
    const size_t n = f->readings.n;
    const struct hbk_reading sound = f->items[at];
    const struct hbk_reading last = f->items[n - 1];
    struct hbk_arena arena = {0};
    struct hbk_fit spoiled;
    struct hbk_fit without;
    double cents[2][2 * FITTING_MOST];
    f->items[at].cents += slip;
    fitting_fit(f, &spoiled, &arena);
    f->items[at] = last;
    f->readings.n = n - 1;
    fitting_fit(f, &without, &arena);
    f->readings.n = n;
    f->items[at] = sound;
    f->items[n - 1] = last;
    const struct hbk_fit_reading *const item = &spoiled.report.items[at];
    if (item->state == HBK_FIT_USED) {
        print_error("%s: reading %zu by %g: off %.1f, sd %.1f\n",
                    f->base.horn.id, at + 1, slip, item->alone_cents,
                    item->alone_sd);
    }
    /* What is so far off that it fits no partial is told beforehand. */
    assert_int_not_equal(item->state, HBK_FIT_USED);
    assert_int_equal(spoiled.report.n_used, n - 1);
    fitting_predict(f, &spoiled, cents[0]);
    fitting_predict(f, &without, cents[1]);
    for (size_t k = 0; k < f->n_asked; k++) {
        check_abs(cents[0][k], cents[1][k], 2.0);
    }
    hbk_arena_finish(&arena);
}

#endif
