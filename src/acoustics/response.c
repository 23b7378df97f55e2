#include "acoustics/response.h"

#include <math.h>

enum { MULTIPLES = 8 };
static const double ORDINARY_Q = 30.0;
static const double NEAR_CENTS = 100.0;
/* Bounds that only a column without losses reaches. */
static const double MOST_DB = 200.0;

/* Resistance at hz in the skirt of one maximum. */
static double skirt(const struct hbk_maximum *maximum, double hz)
{
    const double half_widths =
        2.0 * maximum->q * (hz - maximum->hz) / maximum->hz;
    return maximum->height / (1.0 + (half_widths * half_widths));
}

static double support(size_t n, const struct hbk_maximum maxima[], size_t i,
                      double limit_hz)
{
    double sum = maxima[i].height;
    size_t near = i;
    for (int k = 2; k <= MULTIPLES; k++) {
        const double hz = k * maxima[i].hz;
        if (hz > limit_hz) {
            break;
        }
        while (near + 1 < n &&
               fabs(maxima[near + 1].hz - hz) < fabs(maxima[near].hz - hz)) {
            near++;
        }
        sum += skirt(&maxima[near], hz) / k;
    }
    return sum;
}

/* What one neighbour adds to the crowd. */
static double crowding(const struct hbk_maximum *one,
                       const struct hbk_maximum *neighbour)
{
    /* Cents for small intervals, and near enough for great ones. */
    const double cents = 2400.0 / log(2.0) * fabs(neighbour->hz - one->hz) /
                         (neighbour->hz + one->hz);
    const double part = neighbour->height / one->height * NEAR_CENTS / cents;
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
        const double db = 10.0 * log10(square);
        maxima[i].response_db = fmax(fmin(db, MOST_DB), -MOST_DB);
    }
}
