#ifndef HBK_TESTS_INTERVALS_H
#define HBK_TESTS_INTERVALS_H

#include "support/habits.h"

#include "fit/squares.h"

/*
 * Whether the uncertainty that is stated of a note nobody read comes true:
 * horns off by as much as the priors of the fit say, read by a player, fitted,
 * and every other note compared with the true horn, both tuned.
 */
struct intervals {
    const struct habits *of;
    double habit_cents;  /* an octave upwards from C4 */
    double noise_cents;  /* of the tuner, */
    double stated_cents; /* and what the readings say of it */
    bool is_outside;     /* errors that no parameter of the fit describes */
    size_t n_horns;
};

struct intervals_found {
    size_t n, n_within;           /* unread notes, and those within one sigma */
    size_t n_unfit;               /* horns to which nothing was fitted */
    double before, after, stated; /* cents, rms */
};

/* Radii off at eight places by 1 %, straight between them. */
enum { INTERVALS_KNOTS = 8 };

static inline void intervals_bend(const struct hbk_bore *own, struct rng *rng,
                                  struct hbk_station stations[])
{
    const double end_m = own->stations[own->n_stations - 1].x_m;
    double by[INTERVALS_KNOTS];
    for (size_t k = 0; k < INTERVALS_KNOTS; k++) {
        by[k] = 0.01 * rng_normal(rng);
    }
    for (size_t i = 0; i < own->n_stations; i++) {
        const double at = (INTERVALS_KNOTS - 1) * own->stations[i].x_m / end_m;
        const size_t k = (size_t)fmin(at, INTERVALS_KNOTS - 2);
        stations[i].radius_m *=
            exp(by[k] + ((at - (double)k) * (by[k + 1] - by[k])));
    }
}

/* A horn off by what the priors say; outside, its bore is bent by knots. */
static inline void intervals_build(struct fitting *f, bool is_outside,
                                   struct rng *rng)
{
    const struct hbk_horn *const own = &f->base.horn;
    struct hbk_station stations[256];
    struct hbk_horn bent = *own;
    assert_true(own->bore.n_stations <= 256);
    for (size_t p = 0; p < f->parameters.n; p++) {
        const struct hbk_parameter *const item = &f->parameters.items[p];
        const double d = item->sd * rng_normal(rng);
        const bool is_none = hbk_parameter_is_players(item) ||
                             (is_outside && item->kind == HBK_FIT_BEND);
        f->truth[p] = is_none ? 0.0 : d;
    }
    for (size_t i = 0; i < own->bore.n_stations; i++) {
        stations[i] = own->bore.stations[i];
    }
    bent.bore.stations = stations;
    if (is_outside && own->model == HBK_MODEL_BORE) {
        intervals_bend(&own->bore, rng, stations);
    }
    for (size_t k = 0; k < own->n_sites && is_outside; k++) {
        bent.sites[k].hole.chimney_m *= exp(0.1 * rng_normal(rng));
    }
    f->parameters.horn = &bent;
    fitting_follow(f, f->truth, f->true_cents);
    f->parameters.horn = own;
    for (size_t i = 0;
         i < f->n_asked && is_outside && own->model == HBK_MODEL_LENGTH; i++) {
        f->true_cents[i] += 2.0 * rng_normal(rng);
    }
}

/*
 * How surely every note that was asked for is known of the horn alone, against
 * the tuning note: slope' cov slope, as fit/next.h has it for its report.
 */
static inline void intervals_stated(const struct fitting *f,
                                    const struct hbk_fit *fit, size_t tuned,
                                    const double played[], double sd[])
{
    const size_t k = fit->parameters.n;
    double slope[HBK_PARAMETERS_MAX];
    struct hbk_arena arena = {0};
    double *const slopes = HBK_ARENA_ARRAY(&arena, double, f->n_asked *k);
    assert_int_equal(hbk_predict_slopes(&fit->parameters, fit->d, &f->soundings,
                                        played, slopes),
                     HBK_OK);
    for (size_t i = 0; i < f->n_asked; i++) {
        for (size_t p = 0; p < k; p++) {
            slope[p] = hbk_parameter_is_players(&fit->parameters.items[p])
                           ? 0.0
                           : slopes[(i * k) + p] - slopes[(tuned * k) + p];
        }
        sd[i] = sqrt(hbk_squares_variance(k, slope, fit->cov));
    }
    hbk_arena_finish(&arena);
}

static inline size_t intervals_tuning_note(const struct fitting *f)
{
    for (size_t i = 0; i < f->readings.n; i++) {
        if (f->items[i].note == f->base.horn.tuning_note &&
            strcmp(f->label[i], "0") == 0) {
            return i;
        }
    }
    fail();
    return 0;
}

/* One horn: fitted, and its unread notes counted. */
static inline void intervals_count(struct fitting *f, const struct hbk_fit *fit,
                                   struct intervals_found *found)
{
    const double none[HBK_PARAMETERS_MAX] = {0};
    const size_t tuned = intervals_tuning_note(f);
    double d[HBK_PARAMETERS_MAX];
    double played[2 * FITTING_MOST];
    double sd[2 * FITTING_MOST];
    double metal[2 * FITTING_MOST];
    double file[2 * FITTING_MOST];
    for (size_t p = 0; p < f->parameters.n; p++) {
        d[p] =
            hbk_parameter_is_players(&f->parameters.items[p]) ? 0.0 : fit->d[p];
    }
    fitting_follow(f, fit->d, played);
    intervals_stated(f, fit, tuned, played, sd);
    fitting_follow(f, d, metal);
    fitting_follow(f, none, file);
    for (size_t i = f->readings.n; i < f->n_asked; i++) {
        const double truth = f->true_cents[i] - f->true_cents[tuned];
        const double off = metal[i] - metal[tuned] - truth;
        const double was = file[i] - file[tuned] - truth;
        found->n++;
        found->n_within += fabs(off) < sd[i] ? 1 : 0;
        found->before += was * was;
        found->after += off * off;
        found->stated += sd[i] * sd[i];
    }
}

static inline struct intervals_found intervals_run(const struct intervals *run)
{
    static struct fitting f;
    struct intervals_found found = {0};
    fitting_open(&f, run->of->horn);
    fitting_ask(&f, run->of->notes);
    for (uint64_t seed = 0; seed < run->n_horns; seed++) {
        struct rng rng = {.state = 5000 + seed};
        struct hbk_arena arena = {0};
        struct hbk_faults faults = {0};
        struct hbk_fit fit;
        intervals_build(&f, run->is_outside, &rng);
        fitting_read(&f, run->of->n_read, run->noise_cents, &rng);
        for (size_t i = 0; i < f.readings.n; i++) {
            f.items[i].cents += run->habit_cents * habits_octaves(&f, i);
            f.items[i].uncertainty_cents = run->stated_cents;
        }
        if (hbk_fit_horn(&f.base.horn, &f.readings, &arena, &fit, &faults) ==
            HBK_OK) {
            intervals_count(&f, &fit, &found);
        } else {
            found.n_unfit++;
        }
        hbk_arena_finish(&arena);
    }
    const double n = (double)found.n;
    found.before = sqrt(found.before / n);
    found.after = sqrt(found.after / n);
    found.stated = sqrt(found.stated / n);
    fitting_close(&f);
    return found;
}

static inline double intervals_share(const struct intervals_found *found)
{
    return (double)found->n_within / (double)found->n;
}

#endif
