#include "sheet/block/spread.h"

#include <assert.h>
#include <math.h>

/*
 * Without the gaps it is a fit of an ascending sequence: neighbours that
 * stand the wrong way round are pooled, and share their mean (Barlow and
 * others, Statistical Inference under Order Restrictions, 1972).
 */
static void pool(size_t n, double at[])
{
    double mean[HBK_SPREAD_MAX];
    size_t count[HBK_SPREAD_MAX];
    size_t pools = 0;
    for (size_t i = 0; i < n; i++) {
        mean[pools] = at[i];
        count[pools] = 1;
        pools++;
        while (pools > 1 && mean[pools - 2] > mean[pools - 1]) {
            const size_t a = count[pools - 2];
            const size_t b = count[pools - 1];
            mean[pools - 2] =
                ((double)a * mean[pools - 2] + (double)b * mean[pools - 1]) /
                (double)(a + b);
            count[pools - 2] = a + b;
            pools--;
        }
    }
    size_t i = 0;
    for (size_t p = 0; p < pools; p++) {
        for (size_t k = 0; k < count[p]; k++) {
            at[i++] = mean[p];
        }
    }
}

void hbk_spread(size_t n, double at[], double gap, double low, double high)
{
    assert(n <= HBK_SPREAD_MAX);
    if (n == 0) {
        return;
    }
    const double most = n > 1 ? (high - low) / (double)(n - 1) : gap;
    const double step = fmin(gap, most);
    for (size_t i = 0; i < n; i++) {
        at[i] -= (double)i * step;
    }
    pool(n, at);
    const double top = high - ((double)(n - 1) * step);
    for (size_t i = 0; i < n; i++) {
        at[i] = fmax(low, fmin(top, at[i])) + (double)i * step;
    }
}
