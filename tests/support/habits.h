#ifndef HBK_TESTS_HABITS_H
#define HBK_TESTS_HABITS_H

#include "support/fitting.h"

#include "music/pitch.h"
#include "solve/habit.h"

/*
 * Horns whose errors no parameter of the fit describes, read by a player who
 * has a habit and slips once: whether the fit finds the horn or the habit.
 */
struct habits {
    const char *horn;
    size_t n_read;
    const char *notes; /* those read first, then others */
    size_t slip_at;    /* a reading on whose keys or valves there are others */
};

static const struct habits habits_of[] = {
    {"cornet-b-flat", 12,
     "C4=0 G4=0 C5=0 E5=0 G5=0 C6=0 F4=1 D5=1 B4=2 G#4=2-3 D4=1-3 A4=1-2 "
     "F#3=1-2-3 G3=1-3 G#3=2-3 A3=1-2 Bb3=1 B3=2 C#4=1-2-3 Eb4=2-3 E4=1-2 "
     "F#4=2 Bb4=1 C#5=1-2 Eb5=2 F5=1 F#5=2 G#5=2-3 A5=1-2 Bb5=1 B5=2",
     7},
    {"cornet-b-flat-bore", 12,
     "C4=0 G4=0 C5=0 E5=0 G5=0 C6=0 F4=1 D5=1 B4=2 G#4=2-3 D4=1-3 A4=1-2 "
     "F#3=1-2-3 G3=1-3 G#3=2-3 A3=1-2 Bb3=1 B3=2 C#4=1-2-3 Eb4=2-3 E4=1-2 "
     "F#4=2 Bb4=1 C#5=1-2 Eb5=2 F5=1 F#5=2",
     7},
    {"tests/data/unfitted/keyed-bugle-c-6-munich.yaml", 16,
     "C4=0 G4=0 C5=0 E5=0 G5=0 B3=1 B4=1 C#4=2 G#4=2 D4=3 A4=3 A4=4 E4=5 "
     "C5=5 E4=6 F5=6 F#4=1 F#5=1 C#5=2 D5=3 Bb5=4 E5=5 C5=6 B4=3-5",
     3},
};
enum { HABITS = sizeof(habits_of) / sizeof(habits_of[0]), HABITS_SEEDS = 24 };

/* Cents, rms: of the notes that were not read; tuned, of these; of all. */
struct habits_errors {
    double sounding, tuned, all_tuned;
};

/* What one run found. */
struct habits_found {
    struct habits_errors before, after; /* of the horn itself */
    double played;          /* rms of the notes not read, as played */
    double slope, slope_sd; /* of the player */
    bool has_slip;          /* the slip was set aside, */
    size_t n_sound_aside;   /* and how many sound readings */
    double stated;          /* left-out error */
    double stated_notes;    /* uncertainty of the notes */
};

/* A share of 1 by which the bore is wider at u of its length. */
static inline double habits_warp(const double by[3], double u)
{
    double sum = 0.0;
    for (int k = 0; k < 3; k++) {
        sum += by[k] * sin((k + 1) * 3.14159265358979 * u);
    }
    return sum;
}

/*
 * Overall pitch off by less than fitting_spread() has it and everything else by
 * more, so that it is the notes among themselves that the file has wrong.
 */
static inline double habits_share(const struct hbk_parameter *parameter)
{
    if (hbk_parameter_is_players(parameter)) {
        return 0.0;
    }
    return parameter->kind == HBK_FIT_PITCH || parameter->kind == HBK_FIT_LENGTH
               ? 0.5
               : 1.5;
}

/*
 * The file's horn made as no parameter can make it: its bore wider and
 * narrower in three waves of 0.8 %, chimneys higher or lower by a tenth. By
 * length every note is off by 2 cents of its own.
 */
static inline void habits_build(struct fitting *f, struct hbk_horn *warped,
                                struct hbk_station stations[], struct rng *rng)
{
    const struct hbk_horn *const own = &f->base.horn;
    fitting_build(f, rng);
    *warped = *own;
    const double by[3] = {0.008 * rng_normal(rng), 0.008 * rng_normal(rng),
                          0.008 * rng_normal(rng)};
    for (size_t i = 0; i < own->bore.n_stations; i++) {
        const double end_m = own->bore.stations[own->bore.n_stations - 1].x_m;
        stations[i] = own->bore.stations[i];
        stations[i].radius_m *= exp(habits_warp(by, stations[i].x_m / end_m));
    }
    warped->bore.stations = stations;
    for (size_t k = 0; k < own->n_sites; k++) {
        if (own->sites[k].kind == HBK_HOLE) {
            warped->sites[k].hole.chimney_m *= exp(0.1 * rng_normal(rng));
        }
    }
    for (size_t p = 0; p < f->parameters.n; p++) {
        f->truth[p] *= habits_share(&f->parameters.items[p]);
    }
    f->parameters.horn = warped;
    fitting_follow(f, f->truth, f->true_cents);
    f->parameters.horn = own;
    for (size_t i = 0; i < f->n_asked && own->model == HBK_MODEL_LENGTH; i++) {
        f->true_cents[i] += 2.0 * rng_normal(rng);
    }
}

/* Octaves of what is asked for above written C4. */
static inline double habits_octaves(const struct fitting *f, size_t i)
{
    return hbk_cents(f->asked[i].reference_hz,
                     hbk_note_hz(f->base.horn.written_c4_sounds,
                                 f->base.horn.a4_hz)) /
           HBK_OCTAVE_CENTS;
}

/* Of the notes from the first on, with `tuned` taken from all. */
static inline double habits_error(const struct fitting *f, const double cents[],
                                  size_t first, double tuned)
{
    double sum = 0.0;
    for (size_t i = first; i < f->n_asked; i++) {
        const double off = cents[i] - f->true_cents[i] - tuned;
        sum += off * off / (double)(f->n_asked - first);
    }
    return sqrt(sum);
}

static inline struct habits_errors
habits_errors(const struct fitting *f, const double cents[], size_t n_read)
{
    size_t i = 0;
    while (i < n_read && (f->items[i].note != f->base.horn.tuning_note ||
                          strcmp(f->label[i], "0") != 0)) {
        i++;
    }
    assert_true(i < n_read);
    const double tuned = cents[i] - f->true_cents[i];
    return (struct habits_errors){
        .sounding = habits_error(f, cents, n_read, 0.0),
        .tuned = habits_error(f, cents, n_read, tuned),
        .all_tuned = habits_error(f, cents, 0, tuned)};
}

/*
 * One run: habit_cents an octave from C4 upwards, noise of the tuner, and one
 * reading put off by slip cents.
 */
static inline struct habits_found habits_run(struct fitting *f,
                                             const struct habits *of,
                                             uint64_t seed, double habit_cents,
                                             double noise_cents, double slip)
{
    struct rng rng = {.state = 1000 + seed};
    struct hbk_arena arena = {0};
    struct hbk_horn warped;
    struct hbk_station stations[256];
    struct hbk_fit fit;
    double cents[2 * FITTING_MOST];
    double d[HBK_PARAMETERS_MAX] = {0};
    struct habits_found found = {0};
    const size_t n = of->n_read;
    assert_true(f->base.horn.bore.n_stations <= 256);
    habits_build(f, &warped, stations, &rng);
    fitting_read(f, n, noise_cents, &rng);
    for (size_t i = 0; i < n; i++) {
        f->items[i].cents += habit_cents * habits_octaves(f, i);
    }
    f->items[of->slip_at].cents += seed % 2 == 0 ? slip : -slip;
    fitting_follow(f, d, cents);
    found.before = habits_errors(f, cents, n);
    fitting_fit(f, &fit, &arena);
    for (size_t i = 0; i < n; i++) {
        const bool is_aside = fit.report.items[i].state != HBK_FIT_USED;
        found.has_slip = found.has_slip || (i == of->slip_at && is_aside);
        found.n_sound_aside += i != of->slip_at && is_aside ? 1 : 0;
    }
    for (size_t p = 0; p < f->parameters.n; p++) {
        const struct hbk_parameter *const item = &f->parameters.items[p];
        d[p] = hbk_parameter_is_players(item) ? 0.0 : fit.d[p];
        if (item->kind == HBK_FIT_SLOPE) {
            found.slope = fit.report.values[p].after;
            found.slope_sd = fit.report.values[p].after_sd;
        }
    }
    fitting_follow(f, d, cents);
    found.after = habits_errors(f, cents, n);
    fitting_follow(f, fit.d, cents);
    for (size_t i = n; i < f->n_asked; i++) {
        cents[i] -= habit_cents * habits_octaves(f, i);
    }
    found.played = habits_error(f, cents, n, 0.0);
    found.stated = fit.report.alone_rms;
    found.stated_notes = fit.report.notes_sd_after;
    hbk_arena_finish(&arena);
    return found;
}

#endif
