#include "fit/scatter.h"

#include "base/cholesky.h"

#include <math.h>

/* ln t is tried from -FURTHEST to FURTHEST. */
enum { TRIED = 41 };
static const double furthest = 2.0;

/* J' S^-1 J and J' S^-1 r of the readings from the horn of the file. */
struct evidence {
    size_t n, k;
    double *normal, *right;
    double square; /* r' S^-1 r */
};

static struct evidence collect(const struct hbk_squares *fit, double taken,
                               struct hbk_arena *arena)
{
    const size_t k = fit->parameters->n;
    struct evidence e = {.k = k,
                         .normal = HBK_ARENA_ARRAY(arena, double, k *k + 1),
                         .right = HBK_ARENA_ARRAY(arena, double, k + 1)};
    for (size_t i = 0; i < fit->soundings->n; i++) {
        if (!fit->is_used[i] || fit->soundings->items[i].is_name) {
            continue;
        }
        const double *const slope = &fit->slopes[i * k];
        const double weight = taken * taken / (fit->sd[i] * fit->sd[i]);
        double rest = fit->heard[i] - fit->predicted[i];
        for (size_t p = 0; p < k; p++) {
            rest += slope[p] * fit->d[p] / fit->parameters->items[p].sd;
        }
        e.n++;
        e.square += weight * rest * rest;
        for (size_t p = 0; p < k; p++) {
            e.right[p] += weight * slope[p] * rest;
            for (size_t q = 0; q <= p; q++) {
                e.normal[(p * k) + q] += weight * slope[p] * slope[q];
            }
        }
    }
    return e;
}

/* The logarithm of the density at t, less a constant, and of the prior. */
static double log_density(const struct evidence *e, double log_t,
                          double matrix[], double x[])
{
    const size_t k = e->k;
    const double share = exp(-2.0 * log_t);
    const double by = log_t / HBK_FIT_SCATTER_PRIOR;
    for (size_t p = 0; p < k; p++) {
        x[p] = e->right[p];
        for (size_t q = 0; q <= p; q++) {
            matrix[(p * k) + q] =
                (share * e->normal[(p * k) + q]) + (p == q ? 1.0 : 0.0);
        }
    }
    if (!hbk_cholesky(k, matrix)) {
        return -INFINITY;
    }
    const double log_det = hbk_cholesky_log_det(k, matrix);
    hbk_cholesky_solve(k, matrix, x);
    double square = e->square;
    for (size_t p = 0; p < k; p++) {
        square -= share * e->right[p] * x[p];
    }
    return -((double)e->n * log_t) - (0.5 * log_det) - (0.5 * share * square) -
           (0.5 * by * by);
}

double hbk_fit_scatter(const struct hbk_squares *fit, double taken)
{
    struct hbk_arena scratch = {0};
    const struct evidence e = collect(fit, taken, &scratch);
    double *const matrix = HBK_ARENA_ARRAY(&scratch, double, e.k *e.k + 1);
    double *const x = HBK_ARENA_ARRAY(&scratch, double, e.k + 1);
    double density[TRIED];
    double most = -INFINITY;
    for (int i = 0; i < TRIED; i++) {
        const double log_t = furthest * ((2.0 * i / (TRIED - 1)) - 1.0);
        density[i] = log_density(&e, log_t, matrix, x);
        most = fmax(most, density[i]);
    }
    double sum = 0.0;
    double square = 0.0;
    for (int i = 0; i < TRIED && isfinite(most); i++) {
        const double t = exp(furthest * ((2.0 * i / (TRIED - 1)) - 1.0));
        const double weight = exp(density[i] - most);
        sum += weight;
        square += weight * t * t;
    }
    hbk_arena_finish(&scratch);
    return sum > 0.0 ? sqrt(square / sum) : 1.0;
}
