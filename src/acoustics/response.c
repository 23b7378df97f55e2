#include "acoustics/response.h"

#include <math.h>

enum { MULTIPLES = 8 };
static const double ORDINARY_Q = 30.0;
static const double NEAR_CENTS = 100.0;
static const double CENTS = 2400.0 / 0.69314718055994530942;
static const double LN_10 = 2.30258509299404568402;
/* Of the k-th multiple: 1/k. */
static const double WEIGHT[MULTIPLES + 1] = {
    0.0, 1.0, 1.0 / 2, 1.0 / 3, 1.0 / 4, 1.0 / 5, 1.0 / 6, 1.0 / 7, 1.0 / 8};
/* Bounds that only a column without losses reaches. */
static const double MOST_DB = 200.0;

/* Resistance at hz in the skirt of one maximum. */
static double skirt(const struct hbk_maximum *maximum, double hz)
{
    const double square = maximum->hz * maximum->hz;
    const double off = 2.0 * maximum->q * (hz - maximum->hz);
    return maximum->height * (square / (square + (off * off)));
}

static double support(size_t n, const struct hbk_maximum maxima[], size_t i,
                      double limit_hz)
{
    double sum = maxima[i].height;
    size_t near = i;
    for (size_t k = 2; k <= MULTIPLES; k++) {
        const double hz = (double)k * maxima[i].hz;
        if (hz > limit_hz) {
            break;
        }
        while (near + 1 < n &&
               fabs(maxima[near + 1].hz - hz) < fabs(maxima[near].hz - hz)) {
            near++;
        }
        sum += WEIGHT[k] * skirt(&maxima[near], hz);
    }
    return sum;
}

/* What one neighbour adds to the crowd. */
static double crowding(const struct hbk_maximum *one,
                       const struct hbk_maximum *neighbour)
{
    /*
     * 2400/ln 2 (f2 - f1)/(f2 + f1) are the cents of small intervals, and near
     * enough of great ones.
     */
    const double part = NEAR_CENTS / CENTS * neighbour->height *
                        (neighbour->hz + one->hz) /
                        (one->height * (neighbour->hz - one->hz));
    return part * part;
}

void hbk_response_rate(size_t n, struct hbk_maximum maxima[], double limit_hz,
                       double wave_impedance)
{
    for (size_t i = 0; i < n; i++) {
        double crowd = 1.0;
        if (i > 0) {
            crowd += crowding(&maxima[i], &maxima[i - 1]);
        }
        if (i + 1 < n) {
            crowd += crowding(&maxima[i], &maxima[i + 1]);
        }
        const double level = support(n, maxima, i, limit_hz) / wave_impedance;
        const double square =
            level * level * sqrt(maxima[i].q / ORDINARY_Q) / crowd;
        /* log is the quickest of its kind in a usual C library. */
        double db = 10.0 / LN_10 * log(square);
        db = db < MOST_DB ? db : MOST_DB;
        maxima[i].response_db = db > -MOST_DB ? db : -MOST_DB;
    }
}
