#include "base/cholesky.h"

#include <math.h>

bool hbk_cholesky(size_t n, double a[])
{
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k <= i; k++) {
            double sum = a[(i * n) + k];
            for (size_t m = 0; m < k; m++) {
                sum -= a[(i * n) + m] * a[(k * n) + m];
            }
            if (k < i) {
                a[(i * n) + k] = sum / a[(k * n) + k];
            } else if (sum > 0.0) {
                a[(i * n) + i] = sqrt(sum);
            } else {
                return false; /* also for a NaN */
            }
        }
    }
    return true;
}

void hbk_cholesky_solve(size_t n, const double factor[], double b[])
{
    for (size_t i = 0; i < n; i++) {
        for (size_t m = 0; m < i; m++) {
            b[i] -= factor[(i * n) + m] * b[m];
        }
        b[i] /= factor[(i * n) + i];
    }
    for (size_t i = n; i-- > 0;) {
        for (size_t m = i + 1; m < n; m++) {
            b[i] -= factor[(m * n) + i] * b[m];
        }
        b[i] /= factor[(i * n) + i];
    }
}

void hbk_cholesky_inverse(size_t n, const double factor[], double inverse[])
{
    /* Column by column; as the inverse is symmetric, rows do as well. */
    for (size_t k = 0; k < n; k++) {
        double *const row = &inverse[k * n];
        for (size_t i = 0; i < n; i++) {
            row[i] = i == k ? 1.0 : 0.0;
        }
        hbk_cholesky_solve(n, factor, row);
    }
}

double hbk_cholesky_log_det(size_t n, const double factor[])
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        sum += 2.0 * log(factor[(i * n) + i]);
    }
    return sum;
}
