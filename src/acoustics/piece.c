#include "acoustics/piece.h"

#include <math.h>

enum { NODES = HBK_PIECE_NODES, PARTS = HBK_PIECE_PARTS };

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

enum { PAIR = 2 };

/*
 * The first `powers` of the polynomials of two parts: few enough for all
 * numbers to stay in registers.
 */
static inline void fit_pair(const double *const part[PARTS], size_t first,
                            size_t powers, struct hbk_piece *restrict piece)
{
    const double *restrict const one = part[first];
    const double *restrict const other = part[first + 1];
    double even[HALF][PAIR];
    double odd[HALF][PAIR];
    for (size_t k = 0; k < HALF; k++) {
        const double up[PAIR] = {one[HALF + k], other[HALF + k]};
        const double down[PAIR] = {one[HALF - 1 - k], other[HALF - 1 - k]};
        const double scale = 0.5 / ((double)k + 0.5);
        for (size_t s = 0; s < PAIR; s++) {
            even[k][s] = 0.5 * (up[s] + down[s]);
            odd[k][s] = (up[s] - down[s]) * scale;
        }
    }
    for (size_t j = 0; j < powers / 2; j++) {
        for (size_t s = 0; s < PAIR; s++) {
            double e = INVERSE[j][0] * even[0][s];
            double o = INVERSE[j][0] * odd[0][s];
            for (size_t k = 1; k < HALF; k++) {
                e += INVERSE[j][k] * even[k][s];
                o += INVERSE[j][k] * odd[k][s];
            }
            piece->c[2 * j][first + s] = e;
            piece->c[(2 * j) + 1][first + s] = o;
        }
    }
}

static inline void fit(const double *const part[PARTS], size_t powers,
                       struct hbk_piece *piece)
{
    fit_pair(part, 0, powers, piece);
    fit_pair(part, PAIR, powers, piece);
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

/* Values, derivatives and half the second derivatives of the four parts. */
struct taylor {
    double v[PARTS];
    double d[PARTS];
    double h[PARTS];
};

static inline void evaluate(const struct hbk_piece *piece, size_t powers,
                            double t, struct taylor *taylor)
{
    /* One part after the other keeps three numbers in registers. */
    for (size_t s = 0; s < PARTS; s++) {
        double value = piece->c[powers - 1][s];
        double slope = 0.0;
        double bend = 0.0;
        for (size_t k = powers - 1; k-- > 0;) {
            bend = (bend * t) + slope;
            slope = (slope * t) + value;
            value = (value * t) + piece->c[k][s];
        }
        taylor->v[s] = value;
        taylor->d[s] = slope;
        taylor->h[s] = bend;
    }
}

static inline void set_spot(const struct taylor *taylor, struct hbk_spot *spot)
{
    const double *const v = taylor->v;
    const double *const d = taylor->d;
    const double *const h = taylor->h;
    const double p2 = (v[0] * v[0]) + (v[1] * v[1]);
    const double u2 = (v[2] * v[2]) + (v[3] * v[3]);
    const double dp = (v[0] * d[0]) + (v[1] * d[1]);
    const double du = (v[2] * d[2]) + (v[3] * d[3]);
    const double ddp =
        (d[0] * d[0]) + (d[1] * d[1]) + (2.0 * ((v[0] * h[0]) + (v[1] * h[1])));
    const double square = (d[2] * d[2]) + (d[3] * d[3]);
    const double ddu = square + (2.0 * ((v[2] * h[2]) + (v[3] * h[3])));
    for (size_t s = 0; s < PARTS; s++) {
        spot->value[s] = v[s];
    }
    spot->p2 = p2;
    spot->u2 = u2;
    spot->rise = (dp * u2) - (p2 * du);
    spot->curvature = (ddp * u2) - (p2 * ddu);
    spot->slope = du;
    spot->square = square;
}

void hbk_piece_at(const struct hbk_piece *piece, double t,
                  struct hbk_spot *spot)
{
    struct taylor taylor;
    if (piece->is_middle) {
        evaluate(piece, FEW, t, &taylor);
    } else {
        evaluate(piece, NODES, t, &taylor);
    }
    set_spot(&taylor, spot);
}

bool hbk_piece_maximum(const struct hbk_piece *piece, double low, double high,
                       double *t, struct hbk_spot *spot)
{
    const double edge[2] = {low, high};
    double before = fmin(FIRST_CHANGE, high - low);
    for (int i = 0; i < NEWTON_MAX; i++) {
        hbk_piece_at(piece, *t, spot);
        if (spot->rise > 0.0) {
            low = *t;
        } else {
            high = *t;
        }
        double next = *t - (spot->rise / spot->curvature);
        if (!(spot->curvature < 0.0 && next > low && next < high)) {
            next = 0.5 * (low + high);
        }
        const double change = fabs(next - *t);
        *t = next;
        /* Convergence is of second order: so much is left, or will be. */
        if (change < CLOSE &&
            change * change * change < LEFT * before * before) {
            break;
        }
        before = change;
    }
    return *t - edge[0] > EDGE && edge[1] - *t > EDGE && spot->curvature < 0.0;
}
