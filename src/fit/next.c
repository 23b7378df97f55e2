#include "fit/next.h"

#include "fit/predict.h"
#include "fit/squares.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/setting.h"
#include "solve/solve.h"

#include <math.h>
#include <string.h>

enum { FINGERINGS_OF_A_NOTE = 3 };

/* A note that is known so much better than it can be read tells nothing. */
static const double known_share = 0.5;

struct chooser {
    struct hbk_fit *fit;
    struct hbk_arena *arena;
    struct hbk_notes notes;
    struct hbk_rig rig;
    struct hbk_soundings soundings;
    size_t k;
    size_t n; /* candidates; sounding n is the tuning note */
    const struct hbk_note **note;
    const struct hbk_fingering **fingering;
    bool *is_best;  /* the note's first fingering */
    bool *is_taken; /* the note was chosen already */
    double *near;   /* n + 1: cents at which they sound */
    double *slopes; /* (n + 1) x k */
    double *tuned;  /* (n + 1) x k: less those of the tuning note */
    double *metal;  /* the same, of the horn alone: 0 for the player's */
};

static void collect(struct chooser *c)
{
    const struct hbk_horn *const horn = c->fit->report.horn;
    const size_t most = c->notes.n * FINGERINGS_OF_A_NOTE;
    const uint32_t triggers = hbk_horn_kind_press(horn, HBK_TRIGGER);
    struct hbk_sounding *const items =
        HBK_ARENA_ARRAY(c->arena, struct hbk_sounding, most + 1);
    c->near = HBK_ARENA_ARRAY(c->arena, double, most + 1);
    c->note = HBK_ARENA_ARRAY(c->arena, const struct hbk_note *, most + 1);
    c->fingering =
        HBK_ARENA_ARRAY(c->arena, const struct hbk_fingering *, most + 1);
    c->is_best = HBK_ARENA_ARRAY(c->arena, bool, most + 1);
    c->is_taken = HBK_ARENA_ARRAY(c->arena, bool, most + 1);
    for (size_t i = 0; i < c->notes.n; i++) {
        const struct hbk_note *const note = &c->notes.notes[i];
        for (size_t k = 0; k < note->n && k < FINGERINGS_OF_A_NOTE; k++) {
            const struct hbk_fingering *const fingering = &note->fingerings[k];
            const bool is_tuning_note =
                fingering->press == c->notes.tuned.press &&
                fingering->partial == c->notes.tuned.partial;
            if (is_tuning_note || (fingering->press & triggers) != 0) {
                continue;
            }
            items[c->n] = (struct hbk_sounding){
                .press = fingering->press | c->fit->stuck.held_down,
                .partial = fingering->partial,
                .reference_hz = note->target_hz};
            c->near[c->n] = hbk_cents(fingering->hz, note->target_hz);
            c->note[c->n] = note;
            c->fingering[c->n] = fingering;
            c->is_best[c->n] = k == 0;
            c->n++;
        }
    }
    items[c->n] = (struct hbk_sounding){.press = c->notes.tuned.press,
                                        .partial = c->notes.tuned.partial,
                                        .reference_hz = HBK_A4_USUAL_HZ};
    c->near[c->n] = (double)NAN;
    c->rig = (struct hbk_rig){.as_played = true,
                              .temperature_c = horn->temperature_c,
                              .crook = -1,
                              .draw_m = c->notes.tuned.draw_m,
                              .bits = c->notes.tuned.bits};
    c->soundings = (struct hbk_soundings){
        .n = c->n + 1, .items = items, .n_rigs = 1, .rigs = &c->rig};
    hbk_soundings_prepare(&c->soundings, c->arena);
}

static enum hbk_status find_slopes(struct chooser *c)
{
    const size_t k = c->k;
    c->slopes = HBK_ARENA_ARRAY(c->arena, double, (c->n + 1) * k + 1);
    c->tuned = HBK_ARENA_ARRAY(c->arena, double, (c->n + 1) * k + 1);
    c->metal = HBK_ARENA_ARRAY(c->arena, double, (c->n + 1) * k + 1);
    HBK_TRY(hbk_predict_slopes(&c->fit->parameters, c->fit->d, &c->soundings,
                               c->near, c->slopes));
    for (size_t i = 0; i < c->n; i++) {
        for (size_t p = 0; p < k; p++) {
            c->tuned[(i * k) + p] =
                c->slopes[(i * k) + p] - c->slopes[(c->n * k) + p];
            c->metal[(i * k) + p] =
                hbk_parameter_is_players(&c->fit->parameters.items[p])
                    ? 0.0
                    : c->tuned[(i * k) + p];
        }
    }
    return HBK_OK;
}

/* Mean variance of the best fingerings. */
static double mean_variance(const struct chooser *c, const double cov[])
{
    double sum = 0.0;
    size_t n = 0;
    for (size_t i = 0; i < c->n; i++) {
        if (c->is_best[i]) {
            sum += hbk_squares_variance(c->k, &c->metal[i * c->k], cov);
            n++;
        }
    }
    return n > 0 ? sum / (double)n : 0.0;
}

/* cov slope. */
static void spread(size_t k, const double cov[], const double slope[],
                   double out[])
{
    for (size_t p = 0; p < k; p++) {
        out[p] = 0.0;
        for (size_t q = 0; q < k; q++) {
            out[p] += cov[(p * k) + q] * slope[q];
        }
    }
}

/* The variance of the best fingerings that reading candidate `at` takes. */
static double gain_of(const struct chooser *c, const double cov[], size_t at,
                      double noise, double scratch[])
{
    const size_t k = c->k;
    const double *const slope = &c->slopes[at * k];
    spread(k, cov, slope, scratch);
    const double own = hbk_squares_variance(k, slope, cov) + noise;
    double sum = 0.0;
    size_t n = 0;
    for (size_t i = 0; i < c->n; i++) {
        if (!c->is_best[i]) {
            continue;
        }
        double together = 0.0;
        for (size_t p = 0; p < k; p++) {
            together += c->metal[(i * k) + p] * scratch[p];
        }
        sum += together * together / own;
        n++;
    }
    return n > 0 ? sum / (double)n : 0.0;
}

static void learn(const struct chooser *c, double cov[], size_t at,
                  double noise, double scratch[])
{
    const size_t k = c->k;
    const double *const slope = &c->slopes[at * k];
    const double own = hbk_squares_variance(k, slope, cov) + noise;
    spread(k, cov, slope, scratch);
    for (size_t p = 0; p < k; p++) {
        for (size_t q = 0; q < k; q++) {
            cov[(p * k) + q] -= scratch[p] * scratch[q] / own;
        }
    }
}

/* Whether a tuner would tell nothing of it. */
static bool is_known(const struct chooser *c, const double cov[], size_t at,
                     double noise)
{
    const double variance =
        hbk_squares_variance(c->k, &c->tuned[at * c->k], cov);
    return variance < known_share * known_share * noise;
}

static void choose(struct chooser *c)
{
    struct hbk_fit_report *const report = &c->fit->report;
    const size_t k = c->k;
    double *const cov = HBK_ARENA_ARRAY(c->arena, double, k *k + 1);
    double *const scratch = HBK_ARENA_ARRAY(c->arena, double, k + 1);
    const double noise =
        report->scatter * report->scatter *
        ((report->model_cents * report->model_cents) +
         (HBK_READING_UNCERTAINTY_CENTS * HBK_READING_UNCERTAINTY_CENTS));
    memcpy(cov, c->fit->cov, k * k * sizeof(*cov));
    if (report->readings == NULL) {
        /* The note that the horn is tuned on is read before any other. */
        learn(c, cov, c->n, noise, scratch);
    }
    const double all = mean_variance(c, cov);
    while (report->n_next < HBK_FIT_NEXT_MAX) {
        size_t best = c->n;
        double most = 0.0;
        for (size_t i = 0; i < c->n; i++) {
            const double gain = c->is_taken[i] || is_known(c, cov, i, noise)
                                    ? 0.0
                                    : gain_of(c, cov, i, noise, scratch);
            if (gain > most * (1.0 + 1e-9)) {
                most = gain;
                best = i;
            }
        }
        const double left = mean_variance(c, cov);
        if (best == c->n || sqrt(left) - sqrt(fmax(left - most, 0.0)) <
                                HBK_FIT_NEXT_LEAST_CENTS) {
            return;
        }
        report->next[report->n_next++] = (struct hbk_fit_next){
            .written = c->note[best]->written,
            .press = c->fingering[best]->press,
            .partial = c->fingering[best]->partial,
            .cents = c->fingering[best]->cents,
            .cents_sd = sqrt(hbk_squares_variance(k, &c->tuned[best * k], cov)),
            .gain = most / all,
            .notes_sd = sqrt(fmax(left - most, 0.0)),
        };
        learn(c, cov, best, noise, scratch);
        for (size_t i = 0; i < c->n; i++) {
            c->is_taken[i] = c->is_taken[i] || c->note[i] == c->note[best];
        }
    }
}

/* How surely every note is known. */
static void report_notes(struct chooser *c)
{
    struct hbk_fit_note *const notes =
        HBK_ARENA_ARRAY(c->arena, struct hbk_fit_note, c->n + 1);
    size_t n = 0;
    for (size_t i = 0; i < c->n; i++) {
        if (c->is_best[i]) {
            notes[n++] = (struct hbk_fit_note){
                .written = c->note[i]->written,
                .press = c->fingering[i]->press,
                .partial = c->fingering[i]->partial,
                .sd = sqrt(hbk_squares_variance(c->k, &c->metal[i * c->k],
                                                c->fit->cov))};
        }
    }
    c->fit->report.n_notes = n;
    c->fit->report.notes = notes;
}

void hbk_fit_find_next(struct hbk_fit *fit, struct hbk_arena *arena)
{
    struct chooser c = {.fit = fit, .arena = arena, .k = fit->parameters.n};
    struct hbk_horn *const horn = HBK_ARENA_ARRAY(arena, struct hbk_horn, 1);
    struct hbk_faults unsaid = {0};
    if (!hbk_parameters_apply(&fit->parameters, fit->d, arena, horn)) {
        return;
    }
    struct hbk_setting setting = hbk_setting_of(horn);
    setting.as_played = true;
    setting.stuck.held_down = fit->stuck.held_down;
    setting.stuck.held_up = fit->stuck.held_up;
    if (hbk_solve(horn, &setting, arena, &c.notes, &unsaid) != HBK_OK) {
        return;
    }
    collect(&c);
    if (c.n == 0 || find_slopes(&c) != HBK_OK) {
        return;
    }
    double *const one = HBK_ARENA_ARRAY(arena, double, c.k *c.k + 1);
    for (size_t p = 0; p < c.k; p++) {
        /* What was let go was known as the file says. */
        const double share = fit->prior_sd[p] / fit->parameters.items[p].sd;
        one[(p * c.k) + p] = share * share;
    }
    fit->report.notes_sd_before = sqrt(mean_variance(&c, one));
    fit->report.notes_sd_after = sqrt(mean_variance(&c, fit->cov));
    report_notes(&c);
    choose(&c);
}
