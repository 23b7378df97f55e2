#include "acoustics/turns.h"

#include <math.h>

/* Two zeros are suspected when those seen are less than this apart ... */
static const double TWO_ZEROS = 0.75;
/* ... and not farther than this from the axis of frequency. */
static const double FAR_FROM_AXIS = 0.7;
enum { FINE_PIECES = 8 };

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

/* How a grid point sees the nearest zero z of w: -w/w' = z. */
struct view {
    double square;       /* |w|^2 */
    double slope;        /* Re(w' conj w) */
    double slope_square; /* |w'|^2 */
};

static struct view view_at(const double *re, const double *im)
{
    const double dr = hbk_turns_difference(re);
    const double di = hbk_turns_difference(im);
    return (struct view){(re[0] * re[0]) + (im[0] * im[0]),
                         (re[0] * dr) + (im[0] * di), (dr * dr) + (di * di)};
}

static bool is_near(const struct view *view)
{
    const double off = FAR_FROM_AXIS * view->slope_square;
    return (view->square * view->slope_square) - (view->slope * view->slope) <
           off * off;
}

bool hbk_turns_may_be_two(const double *re, const double *im)
{
    const struct view a = view_at(re, im);
    const struct view b = view_at(re + 1, im + 1);
    /* What a sees ahead of it, less what b sees ahead of it. */
    const double apart =
        (b.slope * a.slope_square) - (a.slope * b.slope_square);
    return apart < TWO_ZEROS * a.slope_square * b.slope_square && is_near(&a) &&
           is_near(&b);
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

/* Loops over this many intervals of the grid become vector instructions. */
enum { BLOCK = 16 };

/*
 * Where a block starts that covers interval i: the last one overlaps the one
 * before it. (Doing an interval twice comes to the same.)
 */
static inline size_t block_start(size_t i, size_t end)
{
    return i + BLOCK <= end ? i : end - BLOCK;
}

/* Quarter turns in intervals 0 .. BLOCK - 1, as the quadrants tell. */
static void turn_block(const double *restrict re, const double *restrict im,
                       int *restrict turns)
{
    int quadrant[BLOCK + 1];
    for (size_t k = 0; k < BLOCK; k++) {
        const int left = re[k] - (1e-9 * im[k]) < 0.0;
        const int below = im[k] + (1e-9 * re[k]) < 0.0;
        quadrant[k] = (2 * below) + (left ^ below);
    }
    quadrant[BLOCK] = hbk_turns_quadrant(re[BLOCK], im[BLOCK]);
    for (size_t k = 0; k < BLOCK; k++) {
        turns[k] = ((quadrant[k + 1] - quadrant[k] + 1) & 3) - 1;
    }
}

/*
 * Corrects the turns of intervals 0 .. BLOCK - 1 in which two zeros may lie:
 * they do in the bottom of a valley of the modulus.
 */
static void turn_doubles(const double *re, const double *im, int *turns)
{
    double square[BLOCK + 3]; /* from the point before the first interval */
    double valley[BLOCK];
    for (size_t k = 0; k < BLOCK + 3; k++) {
        const double x = (re - 1)[k];
        const double y = (im - 1)[k];
        square[k] = (x * x) + (y * y);
    }
    for (size_t k = 0; k < BLOCK; k++) {
        valley[k] =
            ((square[k + 1] < square[k]) & (square[k + 3] > square[k + 2])) != 0
                ? 1.0
                : 0.0;
    }
    for (size_t k = 0; k < BLOCK; k++) {
        if (valley[k] > 0.0 && hbk_turns_may_be_two(re + k, im + k)) {
            turns[k] = follow(re + k, im + k);
        }
    }
}

/* From the turns of every interval i, which are in quarter[i + 1]. */
static void add_up(size_t n, const double *re, const double *im, int *quarter)
{
    int at = hbk_turns_between(0, hbk_turns_quadrant(re[0], im[0]));
    quarter[0] = at;
    for (size_t i = 1; i < n; i++) {
        at += quarter[i];
        quarter[i] = at;
    }
}

static void turn_all(size_t n, const double *re, const double *im, int *turns)
{
    for (size_t i = 0; i + 1 < n; i += BLOCK) {
        const size_t from = block_start(i, n - 1);
        turn_block(re + from, im + from, turns + from);
    }
}

void hbk_turns_unwind(size_t n, const double *re, const double *im,
                      int *quarter)
{
    if (n < HBK_TURNS_LEAST) {
        return;
    }
    int *const turns = quarter + 1;
    turn_all(n, re, im, turns);
    /* Two zeros are looked for with three points before, four after. */
    for (size_t i = 3; i < n - 4; i += BLOCK) {
        const size_t from = block_start(i, n - 4);
        turn_doubles(re + from, im + from, turns + from);
    }
    add_up(n, re, im, quarter);
}

void hbk_turns_unwind_seen(size_t n, const double *re, const double *im,
                           const double *zero, int *quarter)
{
    if (n < HBK_TURNS_LEAST) {
        return;
    }
    int *const turns = quarter + 1;
    turn_all(n, re, im, turns);
    for (size_t i = 3; i < n - 4; i += BLOCK) {
        const size_t from = block_start(i, n - 4);
        const double *const see = zero + from;
        double two[BLOCK];
        for (size_t k = 0; k < BLOCK; k++) {
            two[k] = ((fabs(see[k]) < 1.0) & (fabs(see[k + 1]) < 1.0) &
                      (see[k] - see[k + 1] < TWO_ZEROS)) != 0
                         ? 1.0
                         : 0.0;
        }
        for (size_t k = 0; k < BLOCK; k++) {
            if (two[k] > 0.0) {
                turns[from + k] = follow(re + from + k, im + from + k);
            }
        }
    }
    add_up(n, re, im, quarter);
}
