#include "fit/goodness.h"

#include "base/arena.h"
#include "base/cholesky.h"

#include <math.h>
#include <string.h>

enum { ASIDE_FROM = 6, ASIDE_EVERY = 20 };

double hbk_chi_square_tail(double x, size_t n)
{
    const double root_2_pi = 2.5066282746310002;
    if (x <= 0.0) {
        return 1.0;
    }
    if (!isfinite(x)) {
        return 0.0;
    }
    const bool is_odd = n % 2 == 1;
    /* Terms of the sum: x^r e^(-x/2) over 2 4 ... 2r, or over 1 3 ... 2r-1. */
    double sum = is_odd ? erfc(sqrt(0.5 * x)) : exp(-0.5 * x);
    double term = is_odd ? 2.0 * sqrt(x) * exp(-0.5 * x) / root_2_pi : sum;
    for (size_t r = 1; r <= (n - 1) / 2; r++) {
        if (is_odd) {
            sum += term;
            term *= x / ((2.0 * (double)r) + 1.0);
        } else {
            term *= x / (2.0 * (double)r);
            sum += term;
        }
    }
    return fmin(sum, 1.0);
}

double hbk_chi_square_limit(double chance, size_t n)
{
    double low = 0.0;
    double high = 1.0;
    while (hbk_chi_square_tail(high, n) > chance) {
        low = high;
        high *= 2.0;
    }
    while (high - low > 1e-9 * high) {
        const double middle = 0.5 * (low + high);
        if (hbk_chi_square_tail(middle, n) > chance) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return high;
}

/* Errors that are left, their inverse covariance and its product with them. */
struct rest {
    size_t n;
    double *inverse, *weight;
    bool *is_aside;
};

static double deletion_residual(const struct rest *rest, size_t i)
{
    return fabs(rest->weight[i]) / sqrt(rest->inverse[(i * rest->n) + i]);
}

/*
 * Without error i the inverse covariance of the others is P - p p' / P_ii,
 * p the column of i, and what it gives with them follows alike.
 */
static void set_aside(const struct rest *rest, size_t i)
{
    const size_t n = rest->n;
    const double pivot = rest->inverse[(i * n) + i];
    const double share = rest->weight[i] / pivot;
    for (size_t a = 0; a < n; a++) {
        if (a != i && !rest->is_aside[a]) {
            const double own = rest->inverse[(a * n) + i];
            rest->weight[a] -= own * share;
            for (size_t b = 0; b < n; b++) {
                if (b != i) {
                    rest->inverse[(a * n) + b] -=
                        own * rest->inverse[(i * n) + b] / pivot;
                }
            }
        }
    }
    rest->is_aside[i] = true;
}

static struct hbk_goodness judge(const struct rest *rest, const double errors[])
{
    struct hbk_goodness result = {0};
    for (size_t i = 0; i < rest->n; i++) {
        if (rest->is_aside[i]) {
            result.n_aside++;
        } else {
            result.n++;
            result.chi_square += errors[i] * rest->weight[i];
        }
    }
    result.chance = hbk_chi_square_tail(result.chi_square, result.n);
    result.is_good = result.chance >= HBK_GOODNESS_CHANCE;
    return result;
}

struct hbk_goodness hbk_goodness_of(size_t n, double covariance[],
                                    const double rest[])
{
    const size_t most = n < ASIDE_FROM ? 0 : 1 + (n / ASIDE_EVERY);
    struct hbk_arena scratch = {0};
    const struct rest left = {
        .n = n,
        .inverse = HBK_ARENA_ARRAY(&scratch, double, n *n),
        .weight = HBK_ARENA_ARRAY(&scratch, double, n),
        .is_aside = HBK_ARENA_ARRAY(&scratch, bool, n),
    };
    struct hbk_goodness result = {.chi_square = (double)INFINITY, .n = n};
    const bool is_sound = hbk_cholesky(n, covariance);
    if (is_sound) {
        hbk_cholesky_inverse(n, covariance, left.inverse);
        memcpy(left.weight, rest, n * sizeof(*rest));
        hbk_cholesky_solve(n, covariance, left.weight);
        result = judge(&left, rest);
    }
    while (is_sound && !result.is_good && result.n_aside < most) {
        size_t worst = n;
        for (size_t i = 0; i < n; i++) {
            if (!left.is_aside[i] &&
                (worst == n || deletion_residual(&left, i) >
                                   deletion_residual(&left, worst))) {
                worst = i;
            }
        }
        set_aside(&left, worst);
        result = judge(&left, rest);
    }
    hbk_arena_finish(&scratch);
    return result;
}
