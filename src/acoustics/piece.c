#include "acoustics/piece.h"

#include <math.h>

enum { NODES = HBK_PIECE_NODES };

/* Newton stops below this and when less than LEFT remains, in grid steps. */
static const double CLOSE = 1e-3;
static const double LEFT = 2e-9;
/* What lies nearer to an end than this is that end. */
static const double EDGE = 4e-4;
/* What the step before the first is taken to have been. */
static const double FIRST_CHANGE = 0.01;
enum { NEWTON_MAX = 60 };

/*
 * Polynomials through y at -4.5, -3.5, ... 4.5: even and odd part are of fourth
 * degree in x^2. This is the inverse of their Vandermonde matrix at x^2 = 1/4,
 * 9/4, 25/4, 49/4, 81/4.
 */
enum { HALF = NODES / 2, FEW = NODES - 2 };
static const double INVERSE[HALF][HALF] = {
    {19845.0 / 16384.0, -2205.0 / 8192.0, 567.0 / 8192.0, -405.0 / 32768.0,
     35.0 / 32768.0},
    {-4561.0 / 5120.0, 26611.0 / 23040.0, -1135.0 / 3584.0, 589.0 / 10240.0,
     -3229.0 / 645120.0},
    {4307.0 / 23040.0, -1229.0 / 3840.0, 377.0 / 2304.0, -1547.0 / 46080.0,
     47.0 / 15360.0},
    {-41.0 / 2880.0, 13.0 / 480.0, -5.0 / 288.0, 29.0 / 5760.0, -1.0 / 1920.0},
    {1.0 / 2880.0, -1.0 / 1440.0, 1.0 / 2016.0, -1.0 / 5760.0, 1.0 / 40320.0},
};

/*
 * The first `powers` of the polynomials of one pair: few enough for all numbers
 * to stay in registers.
 */
static inline void fit_pair(const double *restrict p, const double *restrict u,
                            size_t powers, size_t which,
                            struct hbk_piece *restrict piece)
{
    hbk_pair even[HALF];
    hbk_pair odd[HALF];
    for (size_t k = 0; k < HALF; k++) {
        const hbk_pair up = {p[HALF + k], u[HALF + k]};
        const hbk_pair down = {p[HALF - 1 - k], u[HALF - 1 - k]};
        even[k] = 0.5 * (up + down);
        odd[k] = (up - down) * (0.5 / ((double)k + 0.5));
    }
    for (size_t j = 0; j < powers / 2; j++) {
        hbk_pair e = INVERSE[j][0] * even[0];
        hbk_pair o = INVERSE[j][0] * odd[0];
        for (size_t k = 1; k < HALF; k++) {
            e += INVERSE[j][k] * even[k];
            o += INVERSE[j][k] * odd[k];
        }
        piece->c[2 * j][which] = e;
        piece->c[(2 * j) + 1][which] = o;
    }
}

static inline void fit(const double *const part[HBK_PIECE_PARTS], size_t powers,
                       struct hbk_piece *piece)
{
    fit_pair(part[0], part[2], powers, 0, piece);
    fit_pair(part[1], part[3], powers, 1, piece);
}

void hbk_piece_fit(const double *const part[HBK_PIECE_PARTS], bool is_middle,
                   struct hbk_piece *piece)
{
    piece->is_middle = is_middle;
    if (is_middle) {
        fit(part, FEW, piece);
    } else {
        fit(part, NODES, piece);
    }
}

/* Values, derivatives and half the second derivatives of one pair. */
struct taylor {
    hbk_pair v, d, h;
};

static inline struct taylor evaluate(const struct hbk_piece *piece,
                                     size_t powers, double t, size_t which)
{
    hbk_pair h = piece->c[powers - 1][which];
    hbk_pair d = (h * t) + piece->c[powers - 2][which];
    hbk_pair v = (d * t) + piece->c[powers - 3][which];
    d = (h * t) + d;
    for (size_t k = powers - 3; k-- > 0;) {
        h = (h * t) + d;
        d = (d * t) + v;
        v = (v * t) + piece->c[k][which];
    }
    return (struct taylor){v, d, h};
}

static inline void set_spot(const struct hbk_piece *piece, size_t powers,
                            double t, struct hbk_spot *spot)
{
    const struct taylor re = evaluate(piece, powers, t, 0);
    const struct taylor im = evaluate(piece, powers, t, 1);
    const hbk_pair modulus = (re.v * re.v) + (im.v * im.v);
    const hbk_pair slope = (re.v * re.d) + (im.v * im.d);
    const hbk_pair square = (re.d * re.d) + (im.d * im.d);
    const hbk_pair bend = square + (2.0 * ((re.v * re.h) + (im.v * im.h)));
    spot->re = re.v;
    spot->im = im.v;
    spot->p2 = modulus[0];
    spot->u2 = modulus[1];
    spot->rise = (slope[0] * modulus[1]) - (modulus[0] * slope[1]);
    spot->curvature = (bend[0] * modulus[1]) - (modulus[0] * bend[1]);
    spot->slope = slope[1];
    spot->square = square[1];
}

static inline void spot_at(const struct hbk_piece *piece, double t,
                           struct hbk_spot *spot)
{
    if (piece->is_middle) {
        set_spot(piece, FEW, t, spot);
    } else {
        set_spot(piece, NODES, t, spot);
    }
}

void hbk_piece_at(const struct hbk_piece *piece, double t,
                  struct hbk_spot *spot)
{
    spot_at(piece, t, spot);
}

/* After two steps: convergence is of second order, so so much is left. */
static inline bool is_converged(double before, double change)
{
    return change < CLOSE && change * change * change < LEFT * before * before;
}

bool hbk_piece_maximum(const struct hbk_piece *piece, double low, double high,
                       double *t, struct hbk_spot *spot)
{
    double bracket[2] = {low, high};
    double before = high - low < FIRST_CHANGE ? high - low : FIRST_CHANGE;
    for (int i = 0; i < NEWTON_MAX; i++) {
        spot_at(piece, *t, spot);
        /* An index: a branch on this would be guessed wrong half the time. */
        bracket[spot->rise > 0.0 ? 0 : 1] = *t;
        double next = *t - (spot->rise / spot->curvature);
        if (!(spot->curvature < 0.0 && next > bracket[0] &&
              next < bracket[1])) {
            next = 0.5 * (bracket[0] + bracket[1]);
        }
        const double change = fabs(next - *t);
        *t = next;
        if (is_converged(before, change)) {
            break;
        }
        before = change;
    }
    return *t - low > EDGE && high - *t > EDGE && spot->curvature < 0.0;
}

unsigned hbk_piece_two_steps(size_t n, const struct hbk_piece *const piece[],
                             double t[], struct hbk_spot spot[])
{
    double before[HBK_PIECE_TOGETHER];
    for (size_t k = 0; k < n; k++) {
        spot_at(piece[k], t[k], &spot[k]);
        const double step = spot[k].rise / spot[k].curvature;
        before[k] = fabs(step);
        t[k] -= step;
    }
    unsigned converged = 0;
    for (size_t k = 0; k < n; k++) {
        spot_at(piece[k], t[k], &spot[k]);
        const double step = spot[k].rise / spot[k].curvature;
        t[k] -= step;
        if (spot[k].curvature < 0.0 && is_converged(before[k], fabs(step))) {
            converged |= 1U << k;
        }
    }
    return converged;
}
