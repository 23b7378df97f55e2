#ifndef HBK_TESTS_SCAN_H
#define HBK_TESTS_SCAN_H

#include "acoustics/chain.h"

#include "support/check.h"

/*
 * Every maximum of |Z| up to limit_hz that a scan in steps of step_hz sees,
 * each then closed in on by sixteen-fold subdivision until rounding hides the
 * rest. It evaluates the model itself at every point: slow, plain, and the
 * measure for what the walk finds. Returns how many, at most `room`.
 */
static inline void scan_levels(const struct hbk_chain *chain,
                               const struct hbk_air *air, uint64_t word,
                               size_t n, const double hz[], double level[])
{
    double re[HBK_LANES];
    double im[HBK_LANES];
    assert_true(n <= HBK_LANES);
    assert_int_equal(hbk_chain_impedance(chain, air, word, n, hz, re, im),
                     HBK_OK);
    for (size_t i = 0; i < n; i++) {
        level[i] = hypot(re[i], im[i]);
    }
}

static inline double scan_refine(const struct hbk_chain *chain,
                                 const struct hbk_air *air, uint64_t word,
                                 double low_hz, double high_hz)
{
    /* A maximum cannot be told apart closer than the root of the rounding. */
    while (high_hz - low_hz > 3e-9 * high_hz) {
        double hz[HBK_LANES];
        double level[HBK_LANES];
        size_t best = 0;
        const double step = (high_hz - low_hz) / (HBK_LANES - 1);
        for (size_t i = 0; i < HBK_LANES; i++) {
            hz[i] = low_hz + (step * (double)i);
        }
        scan_levels(chain, air, word, HBK_LANES, hz, level);
        for (size_t i = 1; i < HBK_LANES; i++) {
            best = level[i] > level[best] ? i : best;
        }
        low_hz = hz[best] - step;
        high_hz = hz[best] + step;
    }
    return 0.5 * (low_hz + high_hz);
}

static inline size_t scan_maxima(const struct hbk_chain *chain,
                                 const struct hbk_air *air, uint64_t word,
                                 double limit_hz, double step_hz, size_t room,
                                 double found_hz[])
{
    size_t count = 0;
    double before = 0.0;
    double last = 0.0;
    double at = 0.0;
    for (double start = step_hz; start < limit_hz + (3.0 * step_hz);
         start += HBK_LANES * step_hz) {
        double hz[HBK_LANES];
        double level[HBK_LANES];
        for (size_t i = 0; i < HBK_LANES; i++) {
            hz[i] = start + (step_hz * (double)i);
        }
        scan_levels(chain, air, word, HBK_LANES, hz, level);
        for (size_t i = 0; i < HBK_LANES; i++) {
            if (at > 0.0 && last > before && last >= level[i] && count < room) {
                const double peak =
                    scan_refine(chain, air, word, at - step_hz, at + step_hz);
                if (peak <= limit_hz) {
                    found_hz[count++] = peak;
                }
            }
            before = last;
            last = level[i];
            at = hz[i];
        }
    }
    return count;
}

static inline double cents_between(double hz, double reference_hz)
{
    return 1200.0 * log2(hz / reference_hz);
}

#endif
