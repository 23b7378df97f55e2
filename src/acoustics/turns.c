#include "acoustics/turns.h"

#include <math.h>

/* Two zeros are suspected when those seen are less than this apart ... */
static const double TWO_ZEROS = 0.75;
/* ... and not farther than this from the axis of frequency. */
static const double FAR_FROM_AXIS = 0.7;
enum { FINE_PIECES = 8 };
static const double TINY_SQUARE = 1e-300;

double hbk_turns_within(double re, double im)
{
    const double x = fabs(re);
    const double y = fabs(im);
    const double sum = x + y;
    if (!(sum > 0.0)) {
        return 0.0;
    }
    const bool odd = (hbk_turns_quadrant(re, im) & 1) != 0;
    return (odd ? x : y) / sum;
}

struct hbk_turns_view hbk_turns_view(double square, double slope,
                                     double slope_square)
{
    const double scale = 1.0 / fmax(slope_square, TINY_SQUARE);
    const double along = -slope * scale;
    const double rest = (square * scale) - (along * along);
    return (struct hbk_turns_view){along, sqrt(fmax(rest, 0.0))};
}

bool hbk_turns_may_be_two(struct hbk_turns_view near, struct hbk_turns_view far)
{
    return near.along - far.along < TWO_ZEROS && near.across < FAR_FROM_AXIS &&
           far.across < FAR_FROM_AXIS;
}

static struct hbk_turns_view view_at(const double *re, const double *im)
{
    const double dr = hbk_turns_difference(re);
    const double di = hbk_turns_difference(im);
    return hbk_turns_view((re[0] * re[0]) + (im[0] * im[0]),
                          (re[0] * dr) + (im[0] * di), (dr * dr) + (di * di));
}

/*
 * y at place t (0 to 1) between y[0] and y[1], from y[-1] .. y[2]: enough to
 * see on which side of an axis a point lies.
 */
static double cubic(const double *y, double t)
{
    const double a = t + 1.0;
    const double b = t;
    const double c = t - 1.0;
    const double d = t - 2.0;
    return (-b * c * d / 6.0 * y[-1]) + (a * c * d / 2.0 * y[0]) -
           (a * b * d / 2.0 * y[1]) + (a * b * c / 6.0 * y[2]);
}

/* Quarter turns between grid points i and i + 1, in small steps. */
static int follow(const double *re, const double *im)
{
    int at = hbk_turns_quadrant(re[0], im[0]);
    int turns = 0;
    for (int k = 1; k <= FINE_PIECES; k++) {
        const double t = (double)k / FINE_PIECES;
        const int next = hbk_turns_quadrant(cubic(re, t), cubic(im, t));
        turns += hbk_turns_between(at, next);
        at = next;
    }
    return turns;
}

static inline double square_at(const double *re, const double *im, size_t i)
{
    return (re[i] * re[i]) + (im[i] * im[i]);
}

/* Whether two zeros may lie between grid points i and i + 1. */
static bool is_double(size_t n, const double *re, const double *im, size_t i)
{
    return i >= 3 && i + 4 < n &&
           hbk_turns_may_be_two(view_at(re + i, im + i),
                                view_at(re + i + 1, im + i + 1));
}

void hbk_turns_unwind(size_t n, const double *re, const double *im,
                      int *quarter)
{
    if (n < 3) {
        return;
    }
    for (size_t i = 0; i < n; i++) {
        quarter[i] = hbk_turns_quadrant(re[i], im[i]);
    }
    int from = quarter[0];
    int at = hbk_turns_between(0, from);
    quarter[0] = at;
    double before = square_at(re, im, 0);
    double here = square_at(re, im, 1);
    bool fell = false; /* |w| from grid point i - 1 to i */
    for (size_t i = 0; i + 2 < n; i++) {
        const int to = quarter[i + 1];
        int turns = hbk_turns_between(from, to);
        const double next = square_at(re, im, i + 2);
        /* Two zeros lie in the bottom of a valley of the modulus. */
        if (fell & (next > here)) {
            turns = is_double(n, re, im, i) ? follow(re + i, im + i) : turns;
        }
        at += turns;
        quarter[i + 1] = at;
        from = to;
        fell = here < before;
        before = here;
        here = next;
    }
    quarter[n - 1] = at + hbk_turns_between(from, quarter[n - 1]);
}
