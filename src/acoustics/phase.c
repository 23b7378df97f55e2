#include "acoustics/phase.h"

#include "acoustics/pair.h"

#include <math.h>
#include <stdint.h>

/* Two zeros are suspected when those seen are less than this apart ... */
static const double TWO_ZEROS = 0.75;
/* ... and not farther than this from the axis of frequency. */
static const double FAR_FROM_AXIS = 0.7;

double hbk_phase_within(double re, double im)
{
    const double x = fabs(re);
    const double y = fabs(im);
    const double sum = x + y;
    if (!(sum > 0.0)) {
        return 0.0;
    }
    /* An index and no branch, which would be guessed wrong half the time. */
    const double along[2] = {y, x};
    return along[hbk_phase_quadrant(re, im) & 1] / sum;
}

/* How a grid point sees the nearest zero z of w: -w/w' = z. */
struct view {
    double square;       /* |w|^2 */
    double slope;        /* Re(w' conj w) */
    double slope_square; /* |w'|^2 */
};

static struct view view_at(const double *re, const double *im)
{
    const double dr = hbk_phase_difference(re);
    const double di = hbk_phase_difference(im);
    return (struct view){(re[0] * re[0]) + (im[0] * im[0]),
                         (re[0] * dr) + (im[0] * di), (dr * dr) + (di * di)};
}

static bool is_near(const struct view *view)
{
    const double off = FAR_FROM_AXIS * view->slope_square;
    return (view->square * view->slope_square) - (view->slope * view->slope) <
           off * off;
}

bool hbk_phase_may_be_two(const double *re, const double *im)
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
 * Weights of y[-1] .. y[2] for y at place t (0 to 1) between y[0] and y[1], by
 * the cubic through them: enough to see on which side of an axis a point lies.
 */
#define CUBIC(t)                                                               \
    {                                                                          \
        -(t) * ((t)-1.0) * ((t)-2.0) / 6.0,                                    \
            ((t) + 1.0) * ((t)-1.0) * ((t)-2.0) / 2.0,                         \
            -((t) + 1.0) * (t) * ((t)-2.0) / 2.0,                              \
            ((t) + 1.0) * (t) * ((t)-1.0) / 6.0                                \
    }
enum { FINE_PIECES = 8 };
static const double EIGHTHS[FINE_PIECES][4] = {
    CUBIC(0.125), CUBIC(0.25), CUBIC(0.375), CUBIC(0.5),
    CUBIC(0.625), CUBIC(0.75), CUBIC(0.875), CUBIC(1.0),
};

static inline double weighted(const double weight[4], const double *y)
{
    return (weight[0] * y[-1]) + (weight[1] * y[0]) + (weight[2] * y[1]) +
           (weight[3] * y[2]);
}

/* Quarter turns between grid points i and i + 1, in small steps. */
static int follow(const double *re, const double *im)
{
    int at = hbk_phase_quadrant(re[0], im[0]);
    int turns = 0;
    for (size_t k = 0; k < FINE_PIECES; k++) {
        const int next = hbk_phase_quadrant(weighted(EIGHTHS[k], re),
                                            weighted(EIGHTHS[k], im));
        turns += hbk_phase_between(at, next);
        at = next;
    }
    return turns;
}

/* So many intervals at a time, with this many grid points read at the edges. */
enum { BLOCK = HBK_MARKS, BEFORE = 3, AFTER = 4 };
_Static_assert(BLOCK + BEFORE + AFTER == HBK_PHASE_LEAST, "a block and edges");

/* Less the quadrants of two grid points. */
static inline hbk_sides less_quadrants(const double *re, const double *im)
{
    const hbk_pair x = hbk_pair_at(re);
    const hbk_pair y = hbk_pair_at(im);
    const hbk_sides left = x - (1e-9 * y) < 0.0;
    const hbk_sides below = y + (1e-9 * x) < 0.0;
    return below + below + (left ^ below);
}

/* Quarter turns in intervals 0 .. BLOCK - 1, as the quadrants tell. */
static void turn_block(const double *re, const double *im, int64_t *turns)
{
    int64_t less[BLOCK + 1];
    for (size_t k = 0; k < BLOCK; k += 2) {
        const hbk_sides two = less_quadrants(re + k, im + k);
        memcpy(less + k, &two, sizeof(two));
    }
    less[BLOCK] = -hbk_phase_quadrant(re[BLOCK], im[BLOCK]);
    for (size_t k = 0; k < BLOCK; k += 2) {
        const hbk_sides two =
            ((hbk_sides_at(less + k) - hbk_sides_at(less + k + 1) + 1) & 3) - 1;
        memcpy(turns + k, &two, sizeof(two));
    }
}

/* The intervals of a block that lie in the bottom of a valley of the modulus.
 */
static uint32_t valleys(const double *re, const double *im)
{
    double square[BLOCK + 4]; /* from the point before the first interval */
    for (size_t k = 0; k < BLOCK + 4; k += 2) {
        const hbk_pair x = hbk_pair_at(re + k - 1);
        const hbk_pair y = hbk_pair_at(im + k - 1);
        const hbk_pair two = (x * x) + (y * y);
        memcpy(square + k, &two, sizeof(two));
    }
    hbk_sides marks = {0, 0};
    for (size_t k = 0; k < BLOCK; k += 2) {
        const double *const at = square + k;
        hbk_marks_add(&marks, k,
                      (hbk_pair_at(at + 1) < hbk_pair_at(at)) &
                          (hbk_pair_at(at + 3) > hbk_pair_at(at + 2)));
    }
    return hbk_marks_of(marks);
}

/* The intervals of a block in which both ends see a zero, not the same one. */
static uint32_t pairs(const double *see)
{
    hbk_sides marks = {0, 0};
    for (size_t k = 0; k < BLOCK; k += 2) {
        const hbk_pair a = hbk_pair_at(see + k);
        const hbk_pair b = hbk_pair_at(see + k + 1);
        hbk_marks_add(&marks, k,
                      (hbk_pair_size(a) < 1.0) & (hbk_pair_size(b) < 1.0) &
                          (a - b < TWO_ZEROS));
    }
    return hbk_marks_of(marks);
}

/* What is followed: zero is what the grid points see, or NULL if not known. */
struct track {
    size_t n;
    const double *re, *im, *zero;
};

/*
 * The intervals from .. from + BLOCK - 1 in which there may be two zeros. At
 * the edges, where the differences do not reach, none is marked.
 */
static uint32_t doubles(const struct track *track, size_t from)
{
    const size_t last = track->n - AFTER - BLOCK;
    size_t at = from < BEFORE ? BEFORE : from;
    at = at > last ? last : at;
    const uint32_t marks = track->zero != NULL
                               ? pairs(track->zero + at)
                               : valleys(track->re + at, track->im + at);
    const uint32_t all = (1U << BLOCK) - 1;
    return at > from ? (marks << (at - from)) & all : marks >> (from - at);
}

static inline void unwind(const struct track *track, int *quarter)
{
    const size_t n = track->n;
    if (n < HBK_PHASE_LEAST) {
        return;
    }
    quarter[0] =
        hbk_phase_between(0, hbk_phase_quadrant(track->re[0], track->im[0]));
    for (size_t i = 0; i + 1 < n; i += BLOCK) {
        /* The last block overlaps the one before it. */
        const size_t from = i + BLOCK < n ? i : n - 1 - BLOCK;
        const double *const re = track->re + from;
        const double *const im = track->im + from;
        int64_t turns[BLOCK];
        turn_block(re, im, turns);
        uint32_t marks = doubles(track, from);
        for (; marks != 0; marks &= marks - 1) {
            const size_t k = hbk_marks_first(marks);
            /* What the quadrants tell as 2 is 2: by two zeros it is more. */
            if (turns[k] < 2 &&
                (track->zero != NULL || hbk_phase_may_be_two(re + k, im + k))) {
                turns[k] = follow(re + k, im + k);
            }
        }
        int at = quarter[from];
        for (size_t k = 0; k < BLOCK; k++) {
            at += (int)turns[k];
            quarter[from + k + 1] = at;
        }
    }
}

void hbk_phase_unwind(size_t n, const double *re, const double *im,
                      int *quarter)
{
    const struct track track = {n, re, im, NULL};
    unwind(&track, quarter);
}

void hbk_phase_unwind_seen(size_t n, const double *re, const double *im,
                           const double *zero, int *quarter)
{
    const struct track track = {n, re, im, zero};
    unwind(&track, quarter);
}
