#include "fit/let_go.h"

#include "base/cholesky.h"
#include "base/messages.h"
#include "fit/slips.h"
#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>
#include <string.h>

/* A reading bears on a value that moves it by this share of the most. */
static const double bearing_share = 0.25;

/* So many values are tried in earnest, the likeliest first. */
enum { TRIALS = 3 };

/* The page as the linearised fit sees it, from the horn of the file. */
struct page {
    const struct hbk_fitter *f;
    size_t n, k;
    double *rest;  /* heard less what the file says */
    double *share; /* k: by how much a slope counts for more */
    bool *is_in;   /* of the readings: followed */
    double *matrix, *inverse, *z;
};

static double square(double x)
{
    return x * x;
}

/* Whether it can be followed: of its note something sounds. */
static bool is_bound(const struct hbk_fitter *f, size_t i)
{
    return f->bound.items[i].state == HBK_BOUND &&
           !isnan(f->squares.predicted[i]);
}

static double slope_of(const struct page *page, size_t i, size_t p)
{
    return page->f->squares.slopes[(i * page->k) + p] * page->share[p];
}

static struct page open_page(const struct hbk_fitter *f,
                             struct hbk_arena *arena)
{
    const size_t n = f->bound.n;
    const size_t k = f->fit->parameters.n;
    const struct page page = {
        .f = f,
        .n = n,
        .k = k,
        .rest = HBK_ARENA_ARRAY(arena, double, n + 1),
        .share = HBK_ARENA_ARRAY(arena, double, k + 1),
        .is_in = HBK_ARENA_ARRAY(arena, bool, n + 1),
        .matrix = HBK_ARENA_ARRAY(arena, double, (k * k) + 1),
        .inverse = HBK_ARENA_ARRAY(arena, double, (k * k) + 1),
        .z = HBK_ARENA_ARRAY(arena, double, k + 1),
    };
    for (size_t p = 0; p < k; p++) {
        page.share[p] = 1.0;
    }
    for (size_t i = 0; i < n; i++) {
        page.rest[i] = f->heard[i] - f->squares.predicted[i];
        for (size_t p = 0; p < k; p++) {
            page.rest[i] += slope_of(&page, i, p) * f->fit->d[p] /
                            f->fit->parameters.items[p].sd;
        }
    }
    return page;
}

/* z of the least sum over those that are in, and its covariance. */
static bool solve(struct page *page)
{
    const size_t k = page->k;
    memset(page->matrix, 0, k * k * sizeof(*page->matrix));
    for (size_t p = 0; p < k; p++) {
        page->matrix[(p * k) + p] = 1.0;
        page->z[p] = 0.0;
    }
    for (size_t i = 0; i < page->n; i++) {
        const double weight =
            page->is_in[i] ? 1.0 / square(page->f->sd[i]) : 0.0;
        for (size_t p = 0; p < k && page->is_in[i]; p++) {
            const double slope = weight * slope_of(page, i, p);
            page->z[p] += slope * page->rest[i];
            for (size_t q = 0; q <= p; q++) {
                page->matrix[(p * k) + q] += slope * slope_of(page, i, q);
            }
        }
    }
    if (!hbk_cholesky(k, page->matrix)) {
        return false;
    }
    hbk_cholesky_inverse(k, page->matrix, page->inverse);
    hbk_cholesky_solve(k, page->matrix, page->z);
    return true;
}

static double left_of(const struct page *page, size_t i)
{
    double left = page->rest[i];
    for (size_t p = 0; p < page->k; p++) {
        left -= slope_of(page, i, p) * page->z[p];
    }
    return left;
}

/* How far a reading lies from the fit to the others, in what chance allows. */
static double off_of(const struct page *page, size_t i)
{
    const size_t k = page->k;
    const double sd = page->f->sd[i];
    double variance = 0.0;
    for (size_t p = 0; p < k; p++) {
        for (size_t q = 0; q < k; q++) {
            variance += slope_of(page, i, p) * page->inverse[(p * k) + q] *
                        slope_of(page, i, q);
        }
    }
    const double left = fabs(left_of(page, i));
    return page->is_in[i]
               ? left / (sd * sqrt(fmax(1.0 - (variance / square(sd)), 1e-9)))
               : left / sqrt(square(sd) + variance);
}

/* What is to be made least; slips are set aside one by one. */
static double least_sum(struct page *page)
{
    double sum = 0.0;
    for (size_t i = 0; i < page->n; i++) {
        page->is_in[i] = is_bound(page->f, i);
    }
    for (size_t at = 0; at < page->n;) {
        double most = HBK_FIT_SLIP;
        if (!solve(page)) {
            return INFINITY;
        }
        at = page->n;
        for (size_t i = 0; i < page->n; i++) {
            const double off = page->is_in[i] && !hbk_fitter_is_name(page->f, i)
                                   ? off_of(page, i)
                                   : 0.0;
            if (off > most) {
                most = off;
                at = i;
            }
        }
        if (at < page->n) {
            page->is_in[at] = false;
            sum += square(HBK_FIT_SLIP);
        }
    }
    for (size_t i = 0; i < page->n; i++) {
        sum += page->is_in[i]
                   ? hbk_squares_share(left_of(page, i), page->f->sd[i],
                                       page->f->bend[i])
                   : 0.0;
    }
    for (size_t p = 0; p < page->k; p++) {
        sum += square(page->z[p]);
    }
    return sum;
}

static bool may_go(const struct hbk_parameter *parameter)
{
    return parameter->kind == HBK_FIT_LOOP ||
           parameter->kind == HBK_FIT_HOLE_RAISE ||
           parameter->kind == HBK_FIT_HOLE_SIZE ||
           parameter->kind == HBK_FIT_HOLE_PLACE;
}

static double margin_of(const struct hbk_parameter *parameter)
{
    return parameter->kind == HBK_FIT_LOOP ? HBK_FIT_LET_GO_MARGIN
                                           : HBK_FIT_LET_GO_HOLE_MARGIN;
}

/* By how much value p moves the reading that it moves most, per sd, cents. */
static double most_slope(const struct hbk_fitter *f, size_t p)
{
    double most = 0.0;
    for (size_t i = 0; i < f->bound.n; i++) {
        if (is_bound(f, i)) {
            most = fmax(
                most, fabs(f->squares.slopes[(i * f->fit->parameters.n) + p]));
        }
    }
    return most;
}

/* The readings of a tuner, among those that are in, that bear on value p. */
static size_t bearing(const struct hbk_fitter *f, const bool is_in[], size_t p)
{
    const double least = bearing_share * most_slope(f, p);
    size_t n = 0;
    for (size_t i = 0; i < f->bound.n; i++) {
        const double slope = f->squares.slopes[(i * f->fit->parameters.n) + p];
        n += is_in[i] && !hbk_fitter_is_name(f, i) && fabs(slope) >= least ? 1
                                                                           : 0;
    }
    return n;
}

/*
 * The gains of letting go each value, by the linearised fit, in units of what
 * is asked of it.
 */
static void find_gains(const struct hbk_fitter *f, double gains[])
{
    struct hbk_arena scratch = {0};
    struct page page = open_page(f, &scratch);
    const double all = least_sum(&page);
    for (size_t p = 0; p < page.k; p++) {
        const double slope =
            may_go(&f->fit->parameters.items[p]) ? most_slope(f, p) : 0.0;
        gains[p] = 0.0;
        if (all >= HBK_FIT_LET_GO_MARGIN && slope > 0.0 &&
            slope < HBK_FIT_LET_GO_CENTS) {
            page.share[p] = HBK_FIT_LET_GO_CENTS / slope;
            gains[p] = (all - least_sum(&page)) /
                       margin_of(&f->fit->parameters.items[p]);
            gains[p] = bearing(f, page.is_in, p) >= HBK_FIT_LET_GO_READINGS
                           ? gains[p]
                           : 0.0;
            page.share[p] = 1.0;
        }
    }
    hbk_arena_finish(&scratch);
}

/* The fit as it stood, to go back to. */
struct stand {
    double *d, *predicted, *slopes, *cov, *leverage;
    bool *is_used;
    double sum, strayed;
    bool is_doubtful;
};

static struct stand keep(const struct hbk_fitter *f, struct hbk_arena *arena)
{
    const size_t n = f->bound.n;
    const size_t k = f->fit->parameters.n;
    const struct stand stand = {
        .d = HBK_ARENA_ARRAY(arena, double, k + 1),
        .predicted = HBK_ARENA_ARRAY(arena, double, n + 1),
        .slopes = HBK_ARENA_ARRAY(arena, double, (n * k) + 1),
        .cov = HBK_ARENA_ARRAY(arena, double, (k * k) + 1),
        .leverage = HBK_ARENA_ARRAY(arena, double, n + 1),
        .is_used = HBK_ARENA_ARRAY(arena, bool, n + 1),
        .sum = f->squares.sum,
        .strayed = f->squares.strayed,
        .is_doubtful = f->is_doubtful,
    };
    memcpy(stand.d, f->squares.d, k * sizeof(*stand.d));
    memcpy(stand.predicted, f->squares.predicted, n * sizeof(*stand.predicted));
    memcpy(stand.slopes, f->squares.slopes, n * k * sizeof(*stand.slopes));
    memcpy(stand.cov, f->squares.cov, k * k * sizeof(*stand.cov));
    memcpy(stand.leverage, f->squares.leverage, n * sizeof(*stand.leverage));
    memcpy(stand.is_used, f->is_used, n * sizeof(*stand.is_used));
    return stand;
}

static void go_back(struct hbk_fitter *f, const struct stand *stand)
{
    const size_t n = f->bound.n;
    const size_t k = f->fit->parameters.n;
    memcpy(f->squares.d, stand->d, k * sizeof(*stand->d));
    memcpy(f->squares.predicted, stand->predicted,
           n * sizeof(*stand->predicted));
    memcpy(f->squares.slopes, stand->slopes, n * k * sizeof(*stand->slopes));
    memcpy(f->squares.cov, stand->cov, k * k * sizeof(*stand->cov));
    memcpy(f->squares.leverage, stand->leverage, n * sizeof(*stand->leverage));
    memcpy(f->is_used, stand->is_used, n * sizeof(*stand->is_used));
    f->squares.sum = stand->sum;
    f->squares.strayed = stand->strayed;
    f->is_doubtful = stand->is_doubtful;
}

/* The sum of the fit as it stands, slips and all. */
static double sum_of(const struct hbk_fitter *f)
{
    double sum = f->squares.sum;
    for (size_t i = 0; i < f->bound.n; i++) {
        sum += is_bound(f, i) && !f->is_used[i] ? square(HBK_FIT_SLIP) : 0.0;
    }
    return sum;
}

/* By how much more the page is explained than it was; see let_go.h. */
static double gain_of(const struct hbk_fitter *f, double before)
{
    double freedom = 0.0;
    const double left = hbk_fitter_misfit(f, &freedom);
    const double fallen = fmax(before - sum_of(f), 0.0);
    return (freedom + 2.0) * log1p(fallen / (fmax(left, freedom) + 1.0));
}

/* Fits with value p let go; whether that is to be kept. */
static bool try_go(struct hbk_fitter *f, size_t p)
{
    struct hbk_parameter *const item = &f->fit->parameters.items[p];
    const double before = sum_of(f);
    const double was_sd = item->sd;
    struct hbk_arena scratch = {0};
    const struct stand stand = keep(f, &scratch);
    item->sd *= HBK_FIT_LET_GO_CENTS / most_slope(f, p);
    for (size_t i = 0; i < f->bound.n; i++) {
        f->is_used[i] = is_bound(f, i);
    }
    f->squares.strayed = INFINITY;
    bool is_kept = hbk_fitter_leave_out_slips(f) == HBK_OK;
    is_kept = is_kept && gain_of(f, before) >= margin_of(item) &&
              bearing(f, f->is_used, p) >= HBK_FIT_LET_GO_READINGS &&
              fabs(f->squares.d[p]) > HBK_FIT_LET_GO_MOVED * was_sd;
    if (!is_kept) {
        item->sd = was_sd;
        go_back(f, &stand);
    }
    hbk_arena_finish(&scratch);
    return is_kept;
}

/* Lets the likeliest value go; whether any was. */
static bool let_one_go(struct hbk_fitter *f)
{
    const size_t k = f->fit->parameters.n;
    struct hbk_arena scratch = {0};
    double *const gains = HBK_ARENA_ARRAY(&scratch, double, k + 1);
    bool has_gone = false;
    find_gains(f, gains);
    for (int i = 0; i < TRIALS && !has_gone; i++) {
        size_t best = 0;
        for (size_t p = 1; p < k; p++) {
            best = gains[p] > gains[best] ? p : best;
        }
        if (k == 0 || gains[best] < 1.0) {
            break;
        }
        gains[best] = 0.0;
        has_gone = try_go(f, best);
    }
    hbk_arena_finish(&scratch);
    return has_gone;
}

/* What was said of reading i when it belonged to no note is taken back. */
static void unsay(struct hbk_fitter *f, size_t i)
{
    const struct hbk_place *const place = &f->bound.items[i].reading->place;
    struct hbk_faults *const faults = f->faults;
    size_t n = 0;
    for (size_t k = 0; k < faults->count; k++) {
        const struct hbk_fault *const said = &faults->items[k];
        if (said->number != HBK_H_READING_FAR_OFF ||
            said->line != place->line || said->column != place->column) {
            faults->items[n++] = *said;
        }
    }
    faults->count = n;
}

/*
 * Takes reading i up as what it is on the horn as it is fitted; whether that
 * is another partial than before.
 */
static bool take_up(struct hbk_fitter *f, size_t i,
                    const struct hbk_bound *bound)
{
    struct hbk_bound *const was = &f->bound.items[i];
    if (f->is_used[i] || bound->state != HBK_BOUND ||
        (was->state == HBK_BOUND && was->partial == bound->partial)) {
        return false;
    }
    unsay(f, i);
    *was = *bound;
    f->asked[i].partial = bound->partial;
    f->squares.predicted[i] = hbk_cents(bound->peak_hz, bound->note_hz);
    f->is_used[i] = true;
    return true;
}

/* What the file says of the readings that were taken up, is_new of them. */
static bool hear_before(struct hbk_fitter *f, const bool is_new[],
                        struct hbk_arena *arena)
{
    const size_t n = f->bound.n;
    double *const none =
        HBK_ARENA_ARRAY(arena, double, f->fit->parameters.n + 1);
    double *const cents = HBK_ARENA_ARRAY(arena, double, n + 1);
    if (hbk_predict(&f->fit->parameters, none, &f->soundings, NULL, cents) !=
        HBK_OK) {
        return false;
    }
    for (size_t i = 0; i < n; i++) {
        f->before[i] = is_new[i] ? cents[i] : f->before[i];
    }
    return true;
}

/*
 * Ties what is not followed to partials anew, now that the horn is known
 * better, and fits again if there is more to follow. Names are tied as they
 * are.
 */
static bool bind_again(struct hbk_fitter *f)
{
    struct hbk_arena scratch = {0};
    struct hbk_horn *const horn = HBK_ARENA_ARRAY(&scratch, struct hbk_horn, 1);
    struct hbk_faults *const unsaid =
        HBK_ARENA_ARRAY(&scratch, struct hbk_faults, 1);
    bool *const is_new = HBK_ARENA_ARRAY(&scratch, bool, f->bound.n + 1);
    struct hbk_bound_readings bound;
    bool has_more = false;
    bool is_sound = true;
    if (f->n_names == 0 &&
        hbk_parameters_apply(&f->fit->parameters, f->fit->d, &scratch, horn) &&
        hbk_readings_bind(f->fit->report.readings, horn, &scratch, &bound,
                          unsaid) == HBK_OK) {
        for (size_t i = 0; i < f->bound.n; i++) {
            is_new[i] = take_up(f, i, &bound.items[i]);
            has_more = has_more || is_new[i];
        }
    }
    if (has_more) {
        f->squares.strayed = INFINITY;
        is_sound = hear_before(f, is_new, &scratch) &&
                   hbk_fitter_leave_out_slips(f) == HBK_OK;
    }
    hbk_arena_finish(&scratch);
    return is_sound;
}

enum hbk_status hbk_fitter_let_go(struct hbk_fitter *f)
{
    bool has_gone = false;
    for (int i = 0; i < HBK_FIT_LET_GO_MOST && let_one_go(f); i++) {
        has_gone = true;
    }
    return !has_gone || bind_again(f) ? HBK_OK : HBK_ERR_DOMAIN;
}
