#ifndef HBK_TESTS_NAMED_READ_H
#define HBK_TESTS_NAMED_READ_H

#include "support/intervals.h"

#include "fit/named.h"

/*
 * A bugle read by a tuner, its bore off by what nobody recorded: whether the
 * names of its keys help beside the readings, and whether what is then stated
 * of the notes that were not read comes true. A check against our own model.
 */
struct named_read {
    size_t n, n_within;
    double off, stated; /* cents, rms */
};

enum { NAMED_READ_OF = 2 }; /* of habits_of */

/* What the true horns are like: the file, or what its names make of it. */
struct named_read_truth {
    const char *around; /* a horn */
    double wave;        /* share by which its bore is off, waves */
};

/* Off by the priors of a fit to readings, and by waves of the bore. */
static inline void named_read_build(struct fitting *f,
                                    const struct hbk_horn *around, double wave,
                                    struct rng *rng)
{
    struct hbk_station stations[256];
    struct hbk_horn waved = *around;
    const double end_m = around->bore.stations[around->bore.n_stations - 1].x_m;
    double by[3];
    assert_true(around->bore.n_stations <= 256);
    for (size_t p = 0; p < f->parameters.n; p++) {
        const struct hbk_parameter *const item = &f->parameters.items[p];
        const double d = item->sd * rng_normal(rng);
        f->truth[p] = hbk_parameter_is_players(item) ? 0.0 : d;
    }
    for (int k = 0; k < 3; k++) {
        by[k] = wave / (k + 1) * rng_normal(rng);
    }
    for (size_t i = 0; i < around->bore.n_stations; i++) {
        stations[i] = around->bore.stations[i];
        stations[i].radius_m *= exp(habits_warp(by, stations[i].x_m / end_m));
    }
    waved.bore.stations = stations;
    f->parameters.horn = &waved;
    fitting_follow(f, f->truth, f->true_cents);
    f->parameters.horn = &f->base.horn;
}

/* Notes that were not read, tuned, of the horn alone. */
static inline void named_read_count(const struct fitting *f,
                                    const struct hbk_fit *fit,
                                    struct named_read *found)
{
    const size_t tuned = intervals_tuning_note(f);
    const size_t k = fit->parameters.n;
    double metal[2 * FITTING_MOST];
    double sd[2 * FITTING_MOST];
    double d[HBK_PARAMETERS_MAX];
    for (size_t p = 0; p < k; p++) {
        d[p] = hbk_parameter_is_players(&fit->parameters.items[p]) ? 0.0
                                                                   : fit->d[p];
    }
    assert_int_equal(
        hbk_predict(&fit->parameters, d, &f->soundings, f->true_cents, metal),
        HBK_OK);
    intervals_stated(f, fit, tuned, metal, sd);
    for (size_t i = f->readings.n; i < f->n_asked; i++) {
        const double off =
            metal[i] - metal[tuned] - (f->true_cents[i] - f->true_cents[tuned]);
        found->n++;
        found->n_within += fabs(off) < sd[i] ? 1 : 0;
        found->off += off * off;
        found->stated += sd[i] * sd[i];
    }
}

/* Horns from `seed` on, with the names beside the readings or without. */
static inline struct named_read named_read_run(uint64_t seed, size_t n_horns,
                                               struct named_read_truth truth,
                                               bool has_names)
{
    static struct fitting f;
    static struct solved around;
    struct named_read found = {0};
    solved_read(&around, truth.around);
    fitting_open(&f, habits_of[NAMED_READ_OF].horn);
    fitting_ask(&f, habits_of[NAMED_READ_OF].notes);
    for (size_t i = 0; i < n_horns; i++) {
        struct rng rng = {.state = seed + i};
        struct hbk_arena arena = {0};
        struct hbk_faults faults = {0};
        struct hbk_fit fit;
        named_read_build(&f, &around.horn, truth.wave, &rng);
        fitting_read(&f, habits_of[NAMED_READ_OF].n_read, 3.0, &rng);
        assert_int_equal(has_names ? hbk_fit_named(&f.base.horn, &f.readings,
                                                   &arena, &fit, &faults)
                                   : hbk_fit_horn(&f.base.horn, &f.readings,
                                                  &arena, &fit, &faults),
                         HBK_OK);
        named_read_count(&f, &fit, &found);
        hbk_arena_finish(&arena);
    }
    found.off = sqrt(found.off / (double)found.n);
    found.stated = sqrt(found.stated / (double)found.n);
    fitting_close(&f);
    solved_close(&around);
    return found;
}

#endif
