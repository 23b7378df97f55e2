#include "notes/series.h"

#include <math.h>

static const unsigned lowest_played = 2;
static const unsigned highest_played = 8;

/* Semitones above partial 1. */
static double above_first(unsigned partial)
{
    return 12.0 * log2((double)partial);
}

/* The median of where partial 1 would lie by each of the others, or NAN. */
static double median_first(const struct hbk_curve *curve, unsigned low,
                           unsigned high)
{
    enum { MOST = 64 };
    double firsts[MOST];
    size_t n = 0;
    for (size_t k = 0; k < curve->n_maxima && n < MOST; k++) {
        const struct hbk_curve_maximum *const m = &curve->maxima[k];
        if (m->partial < low || m->partial > high) {
            continue;
        }
        const double first =
            m->heard.written + m->heard.cents / 100.0 - above_first(m->partial);
        size_t i = n++;
        for (; i > 0 && firsts[i - 1] > first; i--) {
            firsts[i] = firsts[i - 1];
        }
        firsts[i] = first;
    }
    return n == 0 ? (double)NAN : 0.5 * (firsts[(n - 1) / 2] + firsts[n / 2]);
}

struct hbk_series hbk_series_of(const struct hbk_curve *curve)
{
    double first = median_first(curve, lowest_played, highest_played);
    if (isnan(first)) {
        first = median_first(curve, 1, ~0U);
    }
    return isnan(first) ? (struct hbk_series){.found = false}
                        : (struct hbk_series){.found = true,
                                              .lowest = (int)lround(first)};
}

int hbk_series_note(const struct hbk_series *series, unsigned partial)
{
    return series->lowest + (int)lround(above_first(partial));
}

double hbk_series_cents(const struct hbk_series *series,
                        const struct hbk_curve_maximum *m)
{
    return 100.0 * (m->heard.written - hbk_series_note(series, m->partial)) +
           m->heard.cents;
}

const struct hbk_curve_maximum *hbk_curve_partial(const struct hbk_curve *curve,
                                                  unsigned partial)
{
    for (size_t k = 0; k < curve->n_maxima; k++) {
        if (curve->maxima[k].partial == partial) {
            return &curve->maxima[k];
        }
    }
    return NULL;
}
