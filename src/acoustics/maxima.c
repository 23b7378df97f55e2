#include "acoustics/maxima.h"

#include <math.h>
#include <stdbool.h>

enum { NODES = 8, PARTS = 4 };

/*
 * A change of ln |Z|^2 this small from one grid point to the next, that is
 * also a local least, may hide a maximum and a minimum between the points.
 */
static const double SUSPECT = 0.25;
enum { SUSPECT_PIECES = 4 };
/* How far outside its bracket a maximum may turn out, in grid steps. */
static const double MARGIN = 0.25;
/* How far from the least |U| a hidden maximum is looked for: at first by
 * Newton alone, then in pieces. */
static const double NEEDLE = 0.1;
static const double REACH = 0.6;
enum { REACH_PIECES = 12 };
/* Maxima nearer to each other than this are one, in grid steps. */
static const double SAME = 1e-3;
/* Newton stops below this, in grid steps; what is left is its square. */
static const double CLOSE = 1e-5;
enum { NEWTON_MAX = 60 };

/* Stand-ins for what is infinite in a column without losses. */
static const double HIGHEST = 1e300;
static const double SHARPEST = 1e9;

/*
 * Polynomials through y at -3.5, -2.5, ... 3.5: even and odd part are cubics
 * in x^2. This is the inverse of their Vandermonde matrix at x^2 = 1/4, 9/4,
 * 25/4, 49/4.
 */
static const double CUBIC[4][4] = {
    {1225.0 / 1024.0, -245.0 / 1024.0, 49.0 / 1024.0, -5.0 / 1024.0},
    {-1891.0 / 2304.0, 1299.0 / 1280.0, -499.0 / 2304.0, 259.0 / 11520.0},
    {83.0 / 576.0, -15.0 / 64.0, 59.0 / 576.0, -7.0 / 576.0},
    {-1.0 / 144.0, 1.0 / 80.0, -1.0 / 144.0, 1.0 / 720.0},
};

/*
 * p and U near one interval as polynomials: c[power][part], parts Re p, Im p,
 * Re U, Im U, in grid steps from grid point `centre` + 3.5.
 */
struct piece {
    size_t first;
    double c[NODES][PARTS];
};

/* The polynomials at one place. */
struct spot {
    double value[PARTS];
    double p2, u2;    /* |p|^2, |U|^2 */
    double rise;      /* half of (|p|^2)' |U|^2 - |p|^2 (|U|^2)' */
    double curvature; /* derivative of `rise` */
};

/* What a column without losses leaves beside a real number. */
static const double NOISE = 1e-9;

/*
 * 0 from the positive real axis up to the positive imaginary axis, and so on
 * round. Rounding must not decide on which side of an axis a point lies.
 */
static int quadrant(double re, double im)
{
    const double x = fabs(re) <= NOISE * fabs(im) ? 0.0 : re;
    const double y = fabs(im) <= NOISE * fabs(re) ? 0.0 : im;
    if (x > 0.0 && y >= 0.0) {
        return 0;
    }
    if (x <= 0.0 && y > 0.0) {
        return 1;
    }
    return x < 0.0 ? 2 : 3;
}

/* Quarter turns from quadrant `from` to `to`, -1 to 2. */
static int turn(int from, int to)
{
    const int ahead = (to - from) & 3;
    return ahead == 3 ? -1 : ahead;
}

void hbk_maxima_unwind(size_t n, const double *re, const double *im,
                       int *quarter)
{
    if (n == 0) {
        return;
    }
    quarter[0] = turn(0, quadrant(re[0], im[0]));
    int at = quarter[0];
    for (size_t i = 1; i < n; i++) {
        at += turn(at & 3, quadrant(re[i], im[i]));
        quarter[i] = at;
    }
}

/*
 * Where in its quarter turn a phase is, 0 to 1. Not the angle but a rational
 * stand-in that agrees with it at multiples of 1/8 turn and never differs by
 * more than 0.05 quarter: enough to count half turns by.
 */
static double within_quarter(double re, double im)
{
    const double x = fabs(re);
    const double y = fabs(im);
    const double sum = x + y;
    if (!(sum > 0.0)) {
        return 0.0;
    }
    const bool odd = (quadrant(re, im) & 1) != 0;
    return (odd ? x : y) / sum;
}

static void fit(const struct hbk_field *field, size_t interval,
                struct piece *piece)
{
    size_t first = interval < 3 ? 0 : interval - 3;
    first = first + NODES > field->n ? field->n - NODES : first;
    piece->first = first;
    const double *const source[PARTS] = {field->pr + first, field->pi + first,
                                         field->ur + first, field->ui + first};
    double even[4][PARTS];
    double odd[4][PARTS];
    for (size_t k = 0; k < 4; k++) {
        const double x = (double)k + 0.5;
        for (size_t s = 0; s < PARTS; s++) {
            const double up = source[s][4 + k];
            const double down = source[s][3 - k];
            even[k][s] = 0.5 * (up + down);
            odd[k][s] = (up - down) * (0.5 / x);
        }
    }
    for (size_t j = 0; j < 4; j++) {
        for (size_t s = 0; s < PARTS; s++) {
            piece->c[2 * j][s] =
                (CUBIC[j][0] * even[0][s]) + (CUBIC[j][1] * even[1][s]) +
                (CUBIC[j][2] * even[2][s]) + (CUBIC[j][3] * even[3][s]);
            piece->c[(2 * j) + 1][s] =
                (CUBIC[j][0] * odd[0][s]) + (CUBIC[j][1] * odd[1][s]) +
                (CUBIC[j][2] * odd[2][s]) + (CUBIC[j][3] * odd[3][s]);
        }
    }
}

static void evaluate(const struct piece *piece, double t, struct spot *spot)
{
    double v[PARTS];
    double d[PARTS] = {0.0};
    double h[PARTS] = {0.0}; /* half the second derivative */
    for (size_t s = 0; s < PARTS; s++) {
        v[s] = piece->c[NODES - 1][s];
    }
    for (size_t k = NODES - 1; k-- > 0;) {
        for (size_t s = 0; s < PARTS; s++) {
            h[s] = (h[s] * t) + d[s];
            d[s] = (d[s] * t) + v[s];
            v[s] = (v[s] * t) + piece->c[k][s];
        }
    }
    const double p2 = (v[0] * v[0]) + (v[1] * v[1]);
    const double u2 = (v[2] * v[2]) + (v[3] * v[3]);
    const double dp = (v[0] * d[0]) + (v[1] * d[1]);
    const double du = (v[2] * d[2]) + (v[3] * d[3]);
    const double ddp =
        (d[0] * d[0]) + (d[1] * d[1]) + (2.0 * ((v[0] * h[0]) + (v[1] * h[1])));
    const double ddu =
        (d[2] * d[2]) + (d[3] * d[3]) + (2.0 * ((v[2] * h[2]) + (v[3] * h[3])));
    for (size_t s = 0; s < PARTS; s++) {
        spot->value[s] = v[s];
    }
    spot->p2 = p2;
    spot->u2 = u2;
    spot->rise = (dp * u2) - (p2 * du);
    spot->curvature = (ddp * u2) - (p2 * ddu);
}

/*
 * The maximum between low and high, starting at t. False if there is only an
 * edge.
 */
static bool settle(const struct piece *piece, double low, double high,
                   double *t, struct spot *spot)
{
    const double edge[2] = {low, high};
    for (int i = 0; i < NEWTON_MAX; i++) {
        evaluate(piece, *t, spot);
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
        if (change < CLOSE) {
            break;
        }
    }
    return *t - edge[0] > 2.0 * CLOSE && edge[1] - *t > 2.0 * CLOSE &&
           spot->curvature < 0.0;
}

/* The phase at the end that counts, in quarter turns, at grid place g. */
static double end_phase(const struct hbk_field *field, double g)
{
    const size_t last = field->n - 2;
    const size_t i = g <= 0.0 ? 0 : ((size_t)g > last ? last : (size_t)g);
    double phase[2];
    for (size_t k = 0; k < 2; k++) {
        phase[k] = (double)field->end_quarter[i + k] +
                   within_quarter(field->endr[i + k], field->endi[i + k]);
    }
    const double share = fmin(fmax(g - (double)i, 0.0), 1.0);
    return phase[0] + (share * (phase[1] - phase[0]));
}

static unsigned number_of(const struct hbk_field *field,
                          const struct hbk_maxima_scratch *scratch,
                          const struct spot *spot, double g)
{
    const double re = spot->value[2];
    const double im = spot->value[3];
    const int *const quarter = scratch->quarter;
    const size_t last = field->n - 1;
    const size_t i = g <= 0.0 ? 0 : ((size_t)g > last ? last : (size_t)g);
    double here = (double)quarter[i];
    if (spot->u2 > NOISE * scratch->u2[i]) {
        here += (double)turn(quarter[i] & 3, quadrant(re, im)) +
                within_quarter(re, im);
    } else {
        /* A zero of U that is real but for rounding: half of its half turn. */
        here += within_quarter(field->ur[i], field->ui[i]) + 1.0;
    }
    /* Both phases start within the first half turn: undo whole turns. */
    const double lead = (double)(quarter[0] - field->end_quarter[0]);
    const double whole = 4.0 * floor((lead + 1.5) / 4.0);
    const double half_turns = 0.5 * (here - whole - end_phase(field, g));
    return half_turns < 0.0 ? 1U : 1U + (unsigned)half_turns;
}

struct search {
    const struct hbk_field *field;
    const struct hbk_maxima_scratch *scratch;
    size_t room;
    size_t count;
    struct hbk_maximum *maxima;
};

static void keep(struct search *search, const struct piece *piece, double t,
                 const struct spot *spot)
{
    const struct hbk_field *const field = search->field;
    const double g = (double)piece->first + 3.5 + t;
    const double hz = field->step_hz * (g + 1.0);
    if (!(hz > 0.0 && hz <= field->limit_hz) || search->count == search->room) {
        return;
    }
    size_t place = search->count;
    while (place > 0 && search->maxima[place - 1].hz > hz) {
        place--;
    }
    const double same = SAME * field->step_hz;
    if ((place > 0 && hz - search->maxima[place - 1].hz < same) ||
        (place < search->count && search->maxima[place].hz - hz < same)) {
        return;
    }
    for (size_t i = search->count; i > place; i--) {
        search->maxima[i] = search->maxima[i - 1];
    }
    const double u2 = fmax(spot->u2, 1e-300);
    const double half_width =
        field->step_hz * sqrt(spot->p2 * spot->u2 / -spot->curvature);
    search->maxima[place] = (struct hbk_maximum){
        .hz = hz,
        .height = fmin(sqrt(spot->p2 / u2), HIGHEST),
        .q = hz / fmax(2.0 * half_width, hz / SHARPEST),
        .partial = number_of(field, search->scratch, spot, g),
    };
    search->count++;
}

/* The change of sign of the slope between grid points i and i + 1. */
static void take_bracket(struct search *search, size_t i)
{
    const double *const rise = search->scratch->rise;
    struct piece piece;
    struct spot spot;
    fit(search->field, i, &piece);
    const double start = (double)i - (double)piece.first - 3.5;
    double t = start + (rise[i] / (rise[i] - rise[i + 1]));
    if (settle(&piece, start - MARGIN, start + 1.0 + MARGIN, &t, &spot)) {
        keep(search, &piece, t, &spot);
    }
}

/*
 * Looks for maxima between two places of a piece, in pieces of it, where the
 * grid shows none.
 */
static bool look_closely(struct search *search, const struct piece *piece,
                         double low, double high, int pieces)
{
    struct spot spot;
    bool any = false;
    const double width = (high - low) / pieces;
    evaluate(piece, low, &spot);
    bool rises = spot.rise > 0.0;
    for (int k = 1; k <= pieces; k++) {
        const double end = low + (k * width);
        evaluate(piece, end, &spot);
        const bool rose = rises;
        rises = spot.rise > 0.0;
        if (rose && !rises) {
            double t = end - (0.5 * width);
            if (settle(piece, end - width - SAME, end + SAME, &t, &spot)) {
                keep(search, piece, t, &spot);
                any = true;
            }
        }
    }
    return any;
}

/* The slope nearly touches 0 between grid points i and i + 1. */
static void take_suspect(struct search *search, size_t i)
{
    struct piece piece;
    fit(search->field, i, &piece);
    const double start = (double)i - (double)piece.first - 3.5;
    look_closely(search, &piece, start, start + 1.0, SUSPECT_PIECES);
}

/*
 * |U| has a least value between grid points i and i + 1 but |Z| shows no
 * maximum: a zero of p may lie so near the zero of U that maximum and minimum
 * fit between the points, as they do in the low resonances of a wide cone. Then
 * the maximum lies close to the least |U|.
 */
static void take_needle(struct search *search, size_t i)
{
    struct piece piece;
    struct spot spot;
    fit(search->field, i, &piece);
    const double start = (double)i - (double)piece.first - 3.5;
    struct piece only_flow = piece;
    for (size_t k = 0; k < NODES; k++) {
        only_flow.c[k][0] = k == 0 ? 1.0 : 0.0;
        only_flow.c[k][1] = 0.0;
    }
    double least = start + 0.5;
    if (!settle(&only_flow, start - MARGIN, start + 1.0 + MARGIN, &least,
                &spot)) {
        return;
    }
    double t = least;
    if (settle(&piece, least - NEEDLE, least + NEEDLE, &t, &spot)) {
        keep(search, &piece, t, &spot);
    } else {
        look_closely(search, &piece, least - REACH, least + REACH,
                     REACH_PIECES);
    }
}

static void squares(const struct hbk_field *field,
                    const struct hbk_maxima_scratch *scratch)
{
    const double *const pr = field->pr;
    const double *const pi = field->pi;
    const double *const ur = field->ur;
    const double *const ui = field->ui;
    double *restrict const p2 = scratch->p2;
    double *restrict const u2 = scratch->u2;
    for (size_t i = 0; i < field->n; i++) {
        p2[i] = (pr[i] * pr[i]) + (pi[i] * pi[i]);
        u2[i] = (ur[i] * ur[i]) + (ui[i] * ui[i]);
    }
}

/*
 * Half of (|p|^2)' |U|^2 - |p|^2 (|U|^2)' at every grid point, by central
 * differences of the eighth order, of lower order at the ends.
 */
static void slopes(const struct hbk_field *field,
                   const struct hbk_maxima_scratch *scratch)
{
    const double *const p = scratch->p2;
    const double *const u = scratch->u2;
    double *restrict const rise = scratch->rise;
    double *restrict const fall = scratch->flow_slope;
    const size_t n = field->n;
    for (size_t i = 4; i + 4 < n; i++) {
        const double dp = (0.4 * (p[i + 1] - p[i - 1])) -
                          (0.1 * (p[i + 2] - p[i - 2])) +
                          ((2.0 / 105.0) * (p[i + 3] - p[i - 3])) -
                          ((1.0 / 560.0) * (p[i + 4] - p[i - 4]));
        const double du = (0.4 * (u[i + 1] - u[i - 1])) -
                          (0.1 * (u[i + 2] - u[i - 2])) +
                          ((2.0 / 105.0) * (u[i + 3] - u[i - 3])) -
                          ((1.0 / 560.0) * (u[i + 4] - u[i - 4]));
        fall[i] = du;
        rise[i] = (dp * u[i]) - (p[i] * du);
    }
    for (size_t k = 0; k < 4; k++) {
        const size_t places[2] = {k, n - 1 - k};
        for (size_t e = 0; e < 2; e++) {
            const size_t i = places[e];
            const size_t before = i > 0 ? i - 1 : 0;
            const size_t after = i + 1 < n ? i + 1 : i;
            const double scale = 0.5 / (double)(after - before);
            double dp = scale * (p[after] - p[before]);
            double du = scale * (u[after] - u[before]);
            if (i >= 2 && i + 2 < n) {
                dp = ((1.0 / 3.0) * (p[i + 1] - p[i - 1])) -
                     ((1.0 / 24.0) * (p[i + 2] - p[i - 2]));
                du = ((1.0 / 3.0) * (u[i + 1] - u[i - 1])) -
                     ((1.0 / 24.0) * (u[i + 2] - u[i - 2]));
            }
            fall[i] = du;
            rise[i] = (dp * u[i]) - (p[i] * du);
        }
    }
}

/* Whether the slope nearly touches 0 at grid point i without crossing it. */
static bool is_suspect(const struct hbk_maxima_scratch *scratch, size_t n,
                       size_t i)
{
    const double *const rise = scratch->rise;
    if (i == 0 || i + 1 >= n) {
        return false;
    }
    const bool up = rise[i] > 0.0;
    if ((rise[i - 1] > 0.0) != up || (rise[i + 1] > 0.0) != up) {
        return false;
    }
    const double here = scratch->p2[i] * scratch->u2[i];
    if (fabs(rise[i]) > 0.5 * SUSPECT * here) {
        return false;
    }
    const double before = scratch->p2[i - 1] * scratch->u2[i - 1];
    const double after = scratch->p2[i + 1] * scratch->u2[i + 1];
    return fabs(rise[i]) * before <= fabs(rise[i - 1]) * here &&
           fabs(rise[i]) * after <= fabs(rise[i + 1]) * here;
}

/* Of maxima with one number the highest keeps it. */
static void drop_doubles(size_t n, struct hbk_maximum maxima[])
{
    size_t holder = 0;
    for (size_t i = 1; i < n; i++) {
        if (maxima[i].partial != maxima[holder].partial) {
            holder = i;
        } else if (maxima[i].height > maxima[holder].height) {
            maxima[holder].partial = 0;
            holder = i;
        } else {
            maxima[i].partial = 0;
        }
    }
}

size_t hbk_maxima_find(const struct hbk_field *field,
                       const struct hbk_maxima_scratch *scratch, size_t room,
                       struct hbk_maximum maxima[])
{
    if (field->n < NODES + 2) {
        return 0;
    }
    struct search search = {
        .field = field, .scratch = scratch, .room = room, .maxima = maxima};
    squares(field, scratch);
    slopes(field, scratch);
    hbk_maxima_unwind(field->n, field->ur, field->ui, scratch->quarter);
    const double *const rise = scratch->rise;
    const double *const flow_slope = scratch->flow_slope;
    for (size_t i = 0; i + 1 < field->n; i++) {
        if (rise[i] > 0.0 && rise[i + 1] <= 0.0) {
            take_bracket(&search, i);
        } else if (flow_slope[i] < 0.0 && flow_slope[i + 1] >= 0.0) {
            take_needle(&search, i);
        } else if (is_suspect(scratch, field->n, i) ||
                   is_suspect(scratch, field->n, i + 1)) {
            take_suspect(&search, i);
        }
    }
    drop_doubles(search.count, maxima);
    return search.count;
}
