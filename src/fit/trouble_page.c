#include "fit/trouble_page.h"

#include "base/messages.h"
#include "fit/goodness.h"
#include "fit/trouble_priors.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/habit.h"

#include <math.h>
#include <string.h>

/*
 * A page of good readings has one that is said not to fit no more often than
 * that.
 */
static const double aside_chance = 0.05;

/* No note of a horn lies further from one that was meant. */
static const double far_cents = 400.0;

/* Between two amounts of a range, so many are read off between them. */
enum { BETWEEN = 6, FINE_MOST = (HBK_TROUBLE_STEPS - 1) * BETWEEN + 1 };

/* What the binding says of notes far off is what is looked into here. */
static void hand_on(const struct hbk_faults *from, struct hbk_faults *to)
{
    struct hbk_faults kept = {.errors = from->errors, .beyond = from->beyond};
    for (size_t i = 0; i < from->count; i++) {
        if (from->items[i].number != HBK_H_READING_FAR_OFF) {
            kept.items[kept.count++] = from->items[i];
        }
    }
    hbk_faults_hand_on(&kept, to);
}

static double model_of(const struct hbk_horn *horn)
{
    const double own = horn->fitted.n_readings > 0 ? horn->fitted.left_out_cents
                                                   : HBK_TROUBLE_UNFITTED_CENTS;
    return fmin(fmax(own, HBK_TROUBLE_MODEL_CENTS), HBK_TROUBLE_UNFITTED_CENTS);
}

static double heard_hz(const struct hbk_bound *bound)
{
    return bound->note_hz * hbk_cents_ratio(bound->reading->cents);
}

/* What is asked of whoever played the page. */
static void meet_player(struct hbk_trouble_page *page)
{
    const size_t n = page->bound.n;
    double *const octaves = HBK_ARENA_ARRAY(page->arena, double, n);
    double *const sd = HBK_ARENA_ARRAY(page->arena, double, n);
    double *const loose_sd = HBK_ARENA_ARRAY(page->arena, double, n);
    for (size_t i = 0; i < n; i++) {
        const struct hbk_bound *const bound = &page->bound.items[i];
        const double own = bound->reading->uncertainty_cents;
        octaves[i] = hbk_habit_octaves(page->horn, heard_hz(bound));
        sd[i] = hypot(own, page->model_cents);
        loose_sd[i] = hypot(own, HBK_TROUBLE_OTHER_CENTS);
    }
    page->octaves = octaves;
    page->sd = sd;
    page->player = hbk_trouble_player_of(n, octaves, sd, page->arena);
    page->loose = hbk_trouble_player_of(n, octaves, loose_sd, page->arena);
}

enum hbk_status hbk_trouble_page_make(const struct hbk_horn *horn,
                                      const struct hbk_readings *readings,
                                      struct hbk_arena *arena,
                                      struct hbk_trouble_page *page,
                                      struct hbk_faults *faults)
{
    struct hbk_faults said = {0};
    *page = (struct hbk_trouble_page){
        .arena = arena,
        .model_cents = model_of(horn),
        .c4 = readings->has_written_c4 ? readings->written_c4_sounds : 0};
    const enum hbk_status status =
        hbk_readings_bind(readings, horn, arena, &page->bound, &said);
    hand_on(&said, faults);
    if (status != HBK_OK) {
        return status;
    }
    page->horn = hbk_trouble_horn(horn, arena);
    meet_player(page);
    const size_t n = page->bound.n;
    struct hbk_rig *const rigs =
        HBK_ARENA_ARRAY(arena, struct hbk_rig, page->bound.n_rigs + 1);
    struct hbk_sounding *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_sounding, n + 1);
    for (size_t r = 0; r < page->bound.n_rigs; r++) {
        rigs[r] = hbk_trouble_rig(horn, &page->bound.rigs[r], arena);
    }
    for (size_t i = 0; i < n; i++) {
        items[i] =
            (struct hbk_sounding){.press = page->bound.items[i].pressed,
                                  .rig = page->bound.items[i].rig,
                                  .partial = page->bound.items[i].partial,
                                  .reference_hz = page->bound.items[i].note_hz};
    }
    page->soundings = (struct hbk_soundings){
        .n = n, .items = items, .n_rigs = page->bound.n_rigs, .rigs = rigs};
    hbk_soundings_prepare(&page->soundings, arena);
    page->sound =
        HBK_ARENA_ARRAY(arena, struct hbk_peak,
                        (page->soundings.n_columns + 1) * HBK_PEAK_STRIDE);
    const struct hbk_trouble_case none = {HBK_TROUBLE_NONE, -1, -1, -1};
    return hbk_trouble_rows(page->horn, &none, 0.0, &page->soundings,
                            page->sound);
}

/* Cents of a reading from the nearest of one number that answers. */
static double off_from(const struct hbk_peak *peak, double hz)
{
    double least = peak->hz > 0.0 ? hbk_cents(hz, peak->hz) : (double)INFINITY;
    for (size_t k = 0; k < HBK_CLAIMANTS_MAX - 1; k++) {
        const struct hbk_claimant *const other = &peak->others[k];
        const double off =
            other->hz > 0.0 &&
                    other->response_db > peak->response_db - HBK_BOUND_CLAIM_DB
                ? hbk_cents(hz, other->hz)
                : (double)INFINITY;
        least = fabs(off) < fabs(least) ? off : least;
    }
    return least;
}

double hbk_trouble_off(const struct hbk_horn *horn, const struct hbk_peak row[],
                       unsigned stated, double hz, unsigned *nearest)
{
    const struct hbk_partials *const partials = &horn->partials;
    double least = INFINITY;
    unsigned at = 0;
    for (unsigned p = stated > 0 ? stated : partials->lowest;
         p <= (stated > 0 ? stated : partials->highest); p++) {
        const double off = off_from(&row[p], hz);
        at = fabs(off) < fabs(least) ? p : at;
        least = fabs(off) < fabs(least) ? off : least;
    }
    if (nearest != NULL) {
        *nearest = at;
    }
    return least;
}

/* By how far a reading misses the horn with those rows. */
static double rest_of(const struct hbk_trouble_page *page, size_t i,
                      const struct hbk_peak rows[], unsigned *nearest)
{
    const struct hbk_bound *const bound = &page->bound.items[i];
    const double off = hbk_trouble_off(
        page->horn, &rows[page->soundings.column[i] * HBK_PEAK_STRIDE],
        bound->reading->partial, heard_hz(bound), nearest);
    /* Nothing near: as far off as a note of another partial. */
    return fmin(fmax(off, -far_cents), far_cents);
}

/* The errors of a case, at every amount. */
struct table {
    size_t n;       /* readings */
    size_t n_fine;  /* amounts, those between counted */
    double *rest;   /* n_fine x n */
    double *amount; /* n_fine */
};

/* What a reading misses at one amount, and by which partial. */
struct step {
    double rest;
    unsigned partial;
};

/* Where another partial has become the nearest, there is nothing between. */
static double rest_between(const struct step *a, const struct step *b, double t)
{
    return a->partial == b->partial ? a->rest + (t * (b->rest - a->rest))
           : t < 0.5                ? a->rest
                                    : b->rest;
}

static bool fill_table(const struct hbk_trouble_page *page,
                       const struct hbk_trouble_case *what,
                       struct hbk_arena *arena, struct table *table)
{
    const size_t n = page->bound.n;
    const struct hbk_trouble_range range = hbk_trouble_range(
        page->horn, what, page->soundings.n_rigs, page->soundings.rigs);
    struct hbk_peak *const rows =
        HBK_ARENA_ARRAY(arena, struct hbk_peak,
                        (page->soundings.n_columns + 1) * HBK_PEAK_STRIDE);
    struct step *const step =
        HBK_ARENA_ARRAY(arena, struct step, (HBK_TROUBLE_STEPS * n) + 1);
    for (size_t g = 0; g < range.n; g++) {
        if (hbk_trouble_rows(page->horn, what, range.amount[g],
                             &page->soundings, rows) != HBK_OK) {
            return false;
        }
        for (size_t i = 0; i < n; i++) {
            struct step *const here = &step[(g * n) + i];
            here->rest = rest_of(page, i, rows, &here->partial);
        }
    }
    *table = (struct table){
        .n = n,
        .n_fine = range.n == 0 ? 0 : ((range.n - 1) * BETWEEN) + 1,
        .rest = HBK_ARENA_ARRAY(arena, double, (FINE_MOST * n) + 1),
        .amount = HBK_ARENA_ARRAY(arena, double, FINE_MOST)};
    for (size_t f = 0; f < table->n_fine; f++) {
        const size_t g = f / BETWEEN;
        const size_t next = f % BETWEEN == 0 ? g : g + 1;
        const double t = (double)(f % BETWEEN) / BETWEEN;
        table->amount[f] =
            range.amount[g] + (t * (range.amount[next] - range.amount[g]));
        for (size_t i = 0; i < n; i++) {
            table->rest[(f * n) + i] =
                rest_between(&step[(g * n) + i], &step[(next * n) + i], t);
        }
    }
    return table->n_fine > 0;
}

double hbk_trouble_aside_sd(size_t n)
{
    return sqrt(hbk_chi_square_limit(aside_chance / (double)n, 1));
}

/* What is left of readings, and how far that goes for those that fit. */
static void find_left(const struct hbk_trouble_page *page, const double rest[],
                      struct hbk_trouble_judged *judged)
{
    struct hbk_trouble *const result = &judged->result;
    const size_t n = page->bound.n;
    const double limit = hbk_trouble_aside_sd(n);
    double sum = 0.0;
    size_t n_fit = 0;
    judged->left = HBK_ARENA_ARRAY(page->arena, double, n);
    for (size_t i = 0; i < n; i++) {
        judged->left[i] = rest[i] - result->pitch_cents -
                          (result->slope_cents * page->octaves[i]);
        if (fabs(judged->left[i]) <= limit * page->sd[i]) {
            sum += judged->left[i] * judged->left[i];
            n_fit++;
        }
    }
    result->rms_cents = n_fit == 0 ? 0.0 : sqrt(sum / (double)n_fit);
    result->n_aside = n - n_fit;
}

/* What the likeliest amount means, and the likeliest player. */
static void describe(const struct hbk_trouble_page *page,
                     const struct hbk_trouble_case *what,
                     const struct table *table, size_t best,
                     const struct hbk_trouble_played *played,
                     struct hbk_trouble_judged *judged)
{
    const double none = (double)NAN;
    const double *const rest = &table->rest[best * table->n];
    const bool is_hole =
        what->kind == HBK_TROUBLE_LEAK || what->kind == HBK_TROUBLE_LIFT;
    const bool is_length = page->horn->model == HBK_MODEL_LENGTH;
    const bool has_amount =
        what->kind == HBK_TROUBLE_SLIDE || (is_hole && !is_length);
    /* The end of the range where the hole is wholly open, or closed. */
    const bool grows = (what->kind == HBK_TROUBLE_LEAK) != is_length;
    const bool is_end =
        grows ? best + BETWEEN >= table->n_fine : best < BETWEEN;
    double most = 0.0;
    for (size_t i = 0; i < table->n; i++) {
        const double moved = rest_of(page, i, page->sound, NULL) - rest[i];
        most = fabs(moved) > fabs(most) ? moved : most;
    }
    judged->result = (struct hbk_trouble){
        .what = *what,
        .amount_m = has_amount ? judged->amount : none,
        .amount_sd_m = has_amount ? judged->amount_sd : none,
        .is_whole = is_hole && is_end,
        .most_cents = most,
        .pitch_cents = played->pitch_cents,
        .slope_cents = played->slope_cents};
    find_left(page, rest, judged);
}

/* Mean and spread of the amount, weighed by likelihood. */
static void find_amount(const struct table *table, const double by_amount[],
                        double most, struct hbk_trouble_judged *judged)
{
    double sum = 0.0;
    double mean = 0.0;
    double square = 0.0;
    for (size_t f = 0; f < table->n_fine; f++) {
        const double weight = exp(by_amount[f] - most);
        sum += weight;
        mean += weight * table->amount[f];
        square += weight * table->amount[f] * table->amount[f];
    }
    mean /= sum;
    judged->amount_sd = sqrt(fmax((square / sum) - (mean * mean), 0.0));
}

struct hbk_trouble_judged hbk_trouble_judge(const struct hbk_trouble_page *page,
                                            const struct hbk_trouble_case *what)
{
    struct hbk_arena scratch = {0};
    struct table table;
    struct hbk_trouble_judged judged = {.log_likelihood = -INFINITY,
                                        .result = {.what = *what}};
    if (!fill_table(page, what, &scratch, &table)) {
        hbk_arena_finish(&scratch);
        return judged;
    }
    const struct hbk_trouble_player *const player =
        what->kind == HBK_TROUBLE_OTHER ? &page->loose : &page->player;
    double by_amount[FINE_MOST];
    double sum = 0.0;
    struct hbk_trouble_played played = {.log_most = -INFINITY};
    size_t best = 0;
    double most = -INFINITY;
    for (size_t f = 0; f < table.n_fine; f++) {
        if (hbk_trouble_player_ask(player, &table.rest[f * table.n], &played,
                                   &by_amount[f])) {
            best = f;
        }
        most = fmax(most, by_amount[f]);
    }
    for (size_t f = 0; f < table.n_fine; f++) {
        sum += exp(by_amount[f] - most);
    }
    judged.log_likelihood = most + log(sum / (double)table.n_fine);
    judged.amount = table.amount[best];
    find_amount(&table, by_amount, most, &judged);
    describe(page, what, &table, best, &played, &judged);
    hbk_arena_finish(&scratch);
    return judged;
}
