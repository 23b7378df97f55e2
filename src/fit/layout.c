#include "fit/layout.h"

#include "base/cholesky.h"
#include "fit/goodness.h"
#include "fit/priors.h"
#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* No reading is believed to be explained by a partial further away. */
static const double explained_cents = 150.0;

/* How far off a slip may be. */
static const double slip_cents = 300.0;

/* Overall pitches to begin from: an octave, in steps of a quarter tone. */
static const double pitch_step = 50.0;
static const double pitch_most = 600.0;

/* Each reading with each resonance of its fingering, by partial. */
struct grid {
    size_t n, n_peaks; /* HBK_CLAIMANTS_MAX for each partial */
    unsigned lowest;
    double *cents;  /* predicted, from the note meant; n x n_peaks */
    double *slopes; /* n x n_peaks x k */
};

static double heard(const struct hbk_layout *layout, size_t i)
{
    return layout->bound.items[i].reading->cents;
}

/* The slopes have the overall pitch as their last column. */
static enum hbk_status find_slopes(const struct hbk_layout *layout,
                                   const struct hbk_soundings *soundings,
                                   const double near[], double slopes[])
{
    const double none[HBK_PARAMETERS_MAX] = {0};
    const size_t k = layout->parameters.n;
    double *const own =
        HBK_ARENA_ARRAY(layout->arena, double, (soundings->n * k) + 1);
    HBK_TRY(
        hbk_predict_slopes(&layout->parameters, none, soundings, near, own));
    for (size_t i = 0; i < soundings->n; i++) {
        memcpy(&slopes[i * layout->k], &own[i * k], k * sizeof(*own));
        slopes[(i * layout->k) + k] = HBK_IDENTIFY_PITCH_CENTS;
    }
    return HBK_OK;
}

static unsigned partial_of(const struct grid *grid, size_t peak)
{
    return grid->lowest + (unsigned)(peak / HBK_CLAIMANTS_MAX);
}

static enum hbk_status make_grid(const struct hbk_layout *layout,
                                 struct grid *grid)
{
    const struct hbk_partials *const partials = &layout->horn->partials;
    const double none[HBK_PARAMETERS_MAX] = {0};
    struct hbk_arena *const arena = layout->arena;
    grid->n = layout->bound.n;
    grid->lowest = partials->lowest;
    grid->n_peaks =
        HBK_CLAIMANTS_MAX * (partials->highest - partials->lowest + 1);
    const size_t n = grid->n * grid->n_peaks;
    struct hbk_sounding *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_sounding, n + 1);
    for (size_t i = 0; i < n; i++) {
        const struct hbk_bound *const bound =
            &layout->bound.items[i / grid->n_peaks];
        items[i] = (struct hbk_sounding){
            .press = bound->pressed,
            .rig = bound->rig,
            .partial = partial_of(grid, i % grid->n_peaks),
            .claimant = (unsigned)(i % HBK_CLAIMANTS_MAX),
            .reference_hz = bound->note_hz};
    }
    struct hbk_soundings soundings = {.n = n,
                                      .items = items,
                                      .n_rigs = layout->bound.n_rigs,
                                      .rigs = layout->bound.rigs};
    hbk_soundings_prepare(&soundings, arena);
    grid->cents = HBK_ARENA_ARRAY(arena, double, n + 1);
    grid->slopes = HBK_ARENA_ARRAY(arena, double, (n * layout->k) + 1);
    HBK_TRY(
        hbk_predict(&layout->parameters, none, &soundings, NULL, grid->cents));
    return find_slopes(layout, &soundings, grid->cents, grid->slopes);
}

/* The resonance nearest to a reading on a horn so much sharper. */
static size_t nearest(const struct hbk_layout *layout, const struct grid *grid,
                      size_t i, double pitch_cents)
{
    const unsigned stated = layout->bound.items[i].reading->partial;
    const bool is_stated =
        stated >= grid->lowest && stated <= partial_of(grid, grid->n_peaks - 1);
    size_t best = is_stated ? HBK_CLAIMANTS_MAX * (stated - grid->lowest) : 0;
    double least = INFINITY;
    for (size_t p = 0; p < grid->n_peaks; p++) {
        if (is_stated && partial_of(grid, p) != stated) {
            continue;
        }
        const double off = fabs(heard(layout, i) - pitch_cents -
                                grid->cents[(i * grid->n_peaks) + p]);
        if (off < least) {
            least = off;
            best = p;
        }
    }
    return best;
}

/* A choice of resonances, and how likely it makes the readings. */
struct trial {
    size_t *peak; /* n */
    double *slopes, *rest, *factor, *weight;
    double log_likelihood;
};

static struct trial make_trial(const struct hbk_layout *layout)
{
    const size_t n = layout->bound.n;
    struct hbk_arena *const arena = layout->arena;
    return (struct trial){
        .peak = HBK_ARENA_ARRAY(arena, size_t, n + 1),
        .slopes = HBK_ARENA_ARRAY(arena, double, (n * layout->k) + 1),
        .rest = HBK_ARENA_ARRAY(arena, double, n + 1),
        .factor = HBK_ARENA_ARRAY(arena, double, (n * n) + 1),
        .weight = HBK_ARENA_ARRAY(arena, double, n + 1),
        .log_likelihood = -INFINITY,
    };
}

static int by_size(const void *a, const void *b)
{
    const double *const x = a;
    const double *const y = b;
    return (*x > *y) - (*x < *y);
}

static double median(struct hbk_arena *arena, size_t n, const double values[])
{
    double *const sorted = HBK_ARENA_ARRAY(arena, double, n + 1);
    memcpy(sorted, values, n * sizeof(*sorted));
    qsort(sorted, n, sizeof(*sorted), by_size);
    return 0.5 * (sorted[(n - 1) / 2] + sorted[n / 2]);
}

/* Fills slopes and rest. */
static void put_readings(const struct hbk_layout *layout,
                         const struct grid *grid, struct trial *trial)
{
    const size_t k = layout->k;
    for (size_t i = 0; i < grid->n; i++) {
        const size_t at = (i * grid->n_peaks) + trial->peak[i];
        const double rest = heard(layout, i) - grid->cents[at];
        trial->rest[i] = isfinite(rest) ? rest : slip_cents * 4.0;
        memcpy(&trial->slopes[i * k], &grid->slopes[at * k],
               k * sizeof(*trial->slopes));
    }
}

/* The covariance of readings, each with the variance of its own noise. */
static void put_covariance(const struct hbk_layout *layout,
                           const double slopes[], double covariance[])
{
    const size_t n = layout->bound.n;
    const size_t k = layout->k;
    for (size_t i = 0; i < n; i++) {
        for (size_t j = 0; j <= i; j++) {
            double sum = 0.0;
            for (size_t p = 0; p < k; p++) {
                sum += slopes[(i * k) + p] * slopes[(j * k) + p];
            }
            covariance[(i * n) + j] = sum;
        }
        const double noise =
            hypot(layout->bound.items[i].reading->uncertainty_cents,
                  HBK_IDENTIFY_MODEL_CENTS);
        covariance[(i * n) + i] += noise * noise;
    }
}

/*
 * Readings that nothing explains are taken for slips: they may lie anywhere.
 * Returns how many.
 */
static size_t allow_for_slips(const struct hbk_layout *layout,
                              struct trial *trial)
{
    const size_t n = layout->bound.n;
    const double overall = median(layout->arena, n, trial->rest);
    size_t slips = 0;
    for (size_t i = 0; i < n; i++) {
        if (fabs(trial->rest[i] - overall) > explained_cents) {
            trial->factor[(i * n) + i] += slip_cents * slip_cents;
            slips++;
        }
    }
    return slips;
}

static void try_pitch(const struct hbk_layout *layout, const struct grid *grid,
                      double pitch_cents, struct trial *trial)
{
    const double log_turn = 1.8378770664093453; /* ln 2 pi */
    const size_t n = grid->n;
    for (size_t i = 0; i < n; i++) {
        trial->peak[i] = nearest(layout, grid, i, pitch_cents);
    }
    put_readings(layout, grid, trial);
    put_covariance(layout, trial->slopes, trial->factor);
    const size_t slips = allow_for_slips(layout, trial);
    trial->log_likelihood = -INFINITY;
    if (!hbk_cholesky(n, trial->factor)) {
        return;
    }
    memcpy(trial->weight, trial->rest, n * sizeof(*trial->rest));
    hbk_cholesky_solve(n, trial->factor, trial->weight);
    double sum = hbk_cholesky_log_det(n, trial->factor) + (double)n * log_turn;
    for (size_t i = 0; i < n; i++) {
        sum += trial->rest[i] * trial->weight[i];
    }
    trial->log_likelihood =
        ((double)slips * log(HBK_IDENTIFY_SLIP)) - (0.5 * sum);
}

/* What is left when every parameter takes its likeliest value. */
static void describe(const struct hbk_layout *layout,
                     struct hbk_identified_layout *result)
{
    const size_t n = layout->bound.n;
    const size_t k = layout->k;
    double pitch = 0.0;
    for (size_t i = 0; i < n; i++) {
        pitch += HBK_IDENTIFY_PITCH_CENTS * HBK_IDENTIFY_PITCH_CENTS *
                 layout->weight[i];
    }
    /* The length of the layout's own file is part of its overall pitch. */
    for (size_t p = 0; p + 1 < k; p++) {
        if (layout->parameters.items[p].kind != HBK_FIT_PITCH) {
            continue;
        }
        for (size_t i = 0; i < n; i++) {
            const double slope = layout->slopes[(i * k) + p];
            pitch += slope * slope * layout->weight[i];
        }
    }
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double rest = layout->rest[i] - pitch;
        sum += rest * rest;
    }
    result->pitch_cents = pitch;
    result->rms_cents = sqrt(sum / (double)n);
}

static struct hbk_identify_fit how_well(const struct hbk_layout *layout)
{
    const size_t n = layout->bound.n;
    double *const covariance = HBK_ARENA_ARRAY(layout->arena, double, n *n);
    put_covariance(layout, layout->slopes, covariance);
    const struct hbk_goodness found =
        hbk_goodness_of(n, covariance, layout->rest);
    return (struct hbk_identify_fit){
        .is_good = found.is_good,
        .chi_square = found.chi_square,
        .limit = hbk_chi_square_limit(HBK_GOODNESS_CHANCE, found.n),
        .n = found.n,
        .n_aside = found.n_aside,
    };
}

static enum hbk_status judge(struct hbk_layout *layout)
{
    struct grid grid = {0};
    HBK_TRY(make_grid(layout, &grid));
    struct trial best = make_trial(layout);
    struct trial other = make_trial(layout);
    for (double pitch = -pitch_most; pitch <= pitch_most; pitch += pitch_step) {
        try_pitch(layout, &grid, pitch, &other);
        if (other.log_likelihood > best.log_likelihood) {
            const struct trial swap = best;
            best = other;
            other = swap;
        }
    }
    for (size_t i = 0; i < grid.n; i++) {
        layout->bound.items[i].partial = partial_of(&grid, best.peak[i]);
    }
    layout->slopes = best.slopes;
    layout->rest = best.rest;
    layout->factor = best.factor;
    layout->weight = best.weight;
    layout->log_likelihood = best.log_likelihood;
    return isfinite(best.log_likelihood) ? HBK_OK : HBK_ERR_DOMAIN;
}

void hbk_layout_judge(struct hbk_layout *layout,
                      const struct hbk_readings *readings,
                      struct hbk_identified_layout *result)
{
    struct hbk_faults faults = {0};
    *result = (struct hbk_identified_layout){.horn = layout->horn};
    hbk_parameters_list(layout->horn, &layout->parameters);
    layout->k = layout->parameters.n + 1;
    const enum hbk_status status = hbk_readings_bind(
        readings, layout->horn, layout->arena, &layout->bound, &faults);
    if (status != HBK_OK) {
        const struct hbk_fault *const why = &faults.items[0];
        result->impossible =
            why->line > 0 ? hbk_arena_printf(layout->arena, "line %u: %s",
                                             why->line, why->text)
                          : hbk_arena_printf(layout->arena, "%s", why->text);
        return;
    }
    if (judge(layout) != HBK_OK) {
        result->impossible = "its air column cannot be computed";
        return;
    }
    describe(layout, result);
    result->fit = how_well(layout);
}

/* slope' J' weight: by how much the readings move the expectation. */
static double moved_by(const struct hbk_layout *layout, const double slope[],
                       double cross[])
{
    const size_t n = layout->bound.n;
    const size_t k = layout->k;
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        cross[i] = 0.0;
        for (size_t p = 0; p < k; p++) {
            cross[i] += slope[p] * layout->slopes[(i * k) + p];
        }
        sum += cross[i] * layout->weight[i];
    }
    return sum;
}

/* What one sounding is expected to give, slope and cents given. */
static struct hbk_layout_guess guess_of(const struct hbk_layout *layout,
                                        double cents, const double slope[],
                                        double reference_hz)
{
    const size_t n = layout->bound.n;
    struct hbk_arena scratch = {0};
    double *const cross = HBK_ARENA_ARRAY(&scratch, double, n + 1);
    double *const solved = HBK_ARENA_ARRAY(&scratch, double, n + 1);
    const double mean = cents + moved_by(layout, slope, cross);
    double variance =
        (HBK_IDENTIFY_MODEL_CENTS * HBK_IDENTIFY_MODEL_CENTS) +
        (HBK_READING_UNCERTAINTY_CENTS * HBK_READING_UNCERTAINTY_CENTS);
    memcpy(solved, cross, n * sizeof(*solved));
    hbk_cholesky_solve(n, layout->factor, solved);
    for (size_t q = 0; q < layout->k; q++) {
        variance += slope[q] * slope[q];
    }
    for (size_t i = 0; i < n; i++) {
        variance -= cross[i] * solved[i];
    }
    hbk_arena_finish(&scratch);
    return (struct hbk_layout_guess){.hz = reference_hz * hbk_cents_ratio(mean),
                                     .sd_cents = sqrt(fmax(variance, 1.0))};
}

void hbk_layout_guess(const struct hbk_layout *layout, size_t n,
                      const uint32_t presses[],
                      struct hbk_layout_guess guesses[])
{
    const double reference_hz = HBK_A4_USUAL_HZ;
    const double none[HBK_PARAMETERS_MAX] = {0};
    const size_t total = n * HBK_PEAK_STRIDE;
    struct hbk_arena scratch = {0};
    struct hbk_sounding *const items =
        HBK_ARENA_ARRAY(&scratch, struct hbk_sounding, total + 1);
    double *const cents = HBK_ARENA_ARRAY(&scratch, double, total + 1);
    double *const slopes =
        HBK_ARENA_ARRAY(&scratch, double, (total * layout->k) + 1);
    for (size_t i = 0; i < total; i++) {
        guesses[i] = (struct hbk_layout_guess){0};
        items[i] =
            (struct hbk_sounding){.press = presses[i / HBK_PEAK_STRIDE] |
                                           layout->bound.stuck.held_down,
                                  .partial = (unsigned)(i % HBK_PEAK_STRIDE),
                                  .reference_hz = reference_hz};
    }
    struct hbk_soundings soundings = {
        .n = total, .items = items, .n_rigs = 1, .rigs = layout->bound.rigs};
    hbk_soundings_prepare(&soundings, &scratch);
    if (hbk_predict(&layout->parameters, none, &soundings, NULL, cents) ==
            HBK_OK &&
        find_slopes(layout, &soundings, cents, slopes) == HBK_OK) {
        for (size_t i = 0; i < total; i++) {
            if (i % HBK_PEAK_STRIDE > 0 && isfinite(cents[i])) {
                guesses[i] = guess_of(layout, cents[i], &slopes[i * layout->k],
                                      reference_hz);
            }
        }
    }
    hbk_arena_finish(&scratch);
}
