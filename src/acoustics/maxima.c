#include "acoustics/maxima.h"

#include "acoustics/piece.h"
#include "acoustics/turns.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

enum { NODES = HBK_PIECE_NODES, PARTS = HBK_PIECE_PARTS };

/*
 * A change of ln |Z|^2 this small from one grid point to the next, that is
 * also a local least, may hide a maximum and a minimum between the points.
 */
static const double SUSPECT = 0.25;
enum { SUSPECT_PIECES = 4 };
/* How far outside its bracket a maximum may turn out, in grid steps. */
static const double MARGIN = 0.25;
/* Zeros of U farther from the axis than this hide nothing, in grid steps. */
static const double FAR = 0.7;
/*
 * |p| / |t - z| with ln |p| of slope s has a maximum near z only if s times the
 * distance of z from the axis is below 1/2. Slopes change, so there is a
 * margin.
 */
static const double DROWNED = 1.0;
/*
 * How far from its zero of U a hidden maximum is looked for: at first by a few
 * steps of Newton's method, then in pieces.
 */
static const double REACH = 0.6;
enum { REACH_PIECES = 4 };
/* Zeros nearer to each other than this are one, in grid steps. */
static const double SAME_ZERO = 0.02;
/*
 * A zero of U and a maximum of |Z| this near to each other are of one
 * resonance, in grid steps.
 */
static const double SAME_RESONANCE = 0.15;
/* Maxima nearer to each other than this are one, in grid steps. */
static const double SAME = 1e-3;
/* |U|^2 this small beside its neighbour is a zero but for rounding. */
static const double NOISE = 1e-9;

/* Stand-ins for what is infinite in a column without losses. */
static const double HIGHEST = 1e300;
static const double SHARPEST = 1e9;

struct search {
    const struct hbk_field *field;
    const struct hbk_maxima_scratch *scratch;
    size_t room;
    size_t count;
    struct hbk_maximum *maxima;
    double last_zero; /* grid place of the zero of U looked at last */
};

/* One interval of the grid and the polynomials there. */
struct place {
    struct hbk_piece piece;
    double origin; /* grid place of t = 0 */
    double start;  /* t of grid point i */
};

static struct place place_at(const struct search *search, size_t i)
{
    const struct hbk_field *const field = search->field;
    const size_t before = (NODES / 2) - 1;
    size_t first = i < before ? 0 : i - before;
    first = first + NODES > field->n ? field->n - NODES : first;
    const double *const part[PARTS] = {field->pr + first, field->pi + first,
                                       field->ur + first, field->ui + first};
    struct place place;
    hbk_piece_fit(part, &place.piece);
    place.origin = (double)first + (0.5 * (NODES - 1));
    place.start = (double)i - place.origin;
    return place;
}

/* The grid point at or below grid place g, at most `last`. */
static size_t floor_point(double g, size_t last)
{
    if (!(g > 0.0)) {
        return 0;
    }
    return (size_t)g > last ? last : (size_t)g;
}

/* The phase at the end that counts, in quarter turns, at grid place g. */
static double end_phase(const struct hbk_field *field, double g)
{
    const size_t i = floor_point(g, field->n - 2);
    double phase[2];
    for (size_t k = 0; k < 2; k++) {
        phase[k] = (double)field->end_quarter[i + k] +
                   hbk_turns_within(field->endr[i + k], field->endi[i + k]);
    }
    const double share = fmin(fmax(g - (double)i, 0.0), 1.0);
    return phase[0] + (share * (phase[1] - phase[0]));
}

static unsigned number_of(const struct search *search,
                          const struct hbk_spot *spot, double g)
{
    const struct hbk_field *const field = search->field;
    const int *const quarter = search->scratch->quarter;
    const double re = spot->value[2];
    const double im = spot->value[3];
    const size_t i = floor_point(g, field->n - 1);
    double here = (double)quarter[i];
    if (spot->u2 > NOISE * search->scratch->u2[i]) {
        here += (double)hbk_turns_between(quarter[i] & 3,
                                          hbk_turns_quadrant(re, im)) +
                hbk_turns_within(re, im);
    } else {
        /* A zero of U that is real but for rounding: half of its half turn. */
        here += hbk_turns_within(field->ur[i], field->ui[i]) + 1.0;
    }
    /* Both phases start within the first half turn: undo whole turns. */
    const double lead = (double)(quarter[0] - field->end_quarter[0]);
    const double whole = 4.0 * floor((lead + 1.5) / 4.0);
    const double half_turns = 0.5 * (here - whole - end_phase(field, g));
    return half_turns < 0.0 ? 1U : 1U + (unsigned)half_turns;
}

/* Puts a maximum in its place in the list, once. */
static void keep(struct search *search, const struct place *at, double t,
                 const struct hbk_spot *spot)
{
    const struct hbk_field *const field = search->field;
    const double g = at->origin + t;
    const double hz = field->step_hz * (g + 1.0);
    if (!(hz > 0.0 && hz <= field->limit_hz) || search->count == search->room) {
        return;
    }
    struct hbk_maximum *const maxima = search->maxima;
    size_t place = search->count;
    while (place > 0 && maxima[place - 1].hz > hz) {
        place--;
    }
    const double same = SAME * field->step_hz;
    if ((place > 0 && hz - maxima[place - 1].hz < same) ||
        (place < search->count && maxima[place].hz - hz < same)) {
        return;
    }
    for (size_t i = search->count; i > place; i--) {
        maxima[i] = maxima[i - 1];
    }
    const double u2 = fmax(spot->u2, 1e-300);
    const double half_width =
        field->step_hz * sqrt(spot->p2 * spot->u2 / -spot->curvature);
    maxima[place] = (struct hbk_maximum){
        .hz = hz,
        .height = fmin(sqrt(spot->p2 / u2), HIGHEST),
        .q = hz / fmax(2.0 * half_width, hz / SHARPEST),
        .partial = number_of(search, spot, g),
    };
    search->count++;
}

/*
 * Looks for maxima between two places in small pieces, where the grid does not
 * tell.
 */
static void look_closely(struct search *search, const struct place *at,
                         double low, double high, int pieces)
{
    struct hbk_spot spot;
    const double width = (high - low) / pieces;
    hbk_piece_at(&at->piece, low, &spot);
    bool rises = spot.rise > 0.0;
    for (int k = 1; k <= pieces; k++) {
        const double end = low + (k * width);
        hbk_piece_at(&at->piece, end, &spot);
        const bool rose = rises;
        rises = spot.rise > 0.0;
        if (rose && !rises) {
            double t = end - (0.5 * width);
            if (hbk_piece_maximum(&at->piece, end - width - SAME, end + SAME,
                                  &t, &spot)) {
                keep(search, at, t, &spot);
            }
        }
    }
}

/* The slope of |Z| changes sign between grid points i and i + 1. */
static void take_bracket(struct search *search, size_t i)
{
    const double *const rise = search->scratch->rise;
    const struct place at = place_at(search, i);
    struct hbk_spot spot;
    double t = at.start + (rise[i] / (rise[i] - rise[i + 1]));
    if (hbk_piece_maximum(&at.piece, at.start - MARGIN, at.start + 1.0 + MARGIN,
                          &t, &spot)) {
        keep(search, &at, t, &spot);
    }
}

/* The slope nearly touches 0 between grid points i and i + 1. */
static void take_suspect(struct search *search, size_t i)
{
    const struct place at = place_at(search, i);
    look_closely(search, &at, at.start, at.start + 1.0, SUSPECT_PIECES);
}

/* Whether a maximum is known within half a resonance of grid place g. */
static bool is_known(const struct search *search, double g)
{
    const double step_hz = search->field->step_hz;
    const double hz = step_hz * (g + 1.0);
    for (size_t k = search->count; k-- > 0;) {
        if (fabs(search->maxima[k].hz - hz) < SAME_RESONANCE * step_hz) {
            return true;
        }
    }
    return false;
}

static struct hbk_turns_view view(const struct hbk_maxima_scratch *scratch,
                                  size_t i)
{
    return hbk_turns_view(scratch->u2[i], scratch->flow_slope[i],
                          scratch->flow_square[i]);
}

/*
 * A zero of U is seen near place t of interval i, `across` from the axis of
 * frequency. If no maximum of |Z| has been found there, a zero of p may lie so
 * near that maximum and minimum fit between two grid points, as they do in the
 * low resonances of a wide cone, or another resonance may hide it. The maximum
 * lies close to the zero.
 */
static void take_zero(struct search *search, size_t i, double ahead,
                      double across)
{
    if (is_known(search, (double)i + ahead)) {
        return;
    }
    const struct place at = place_at(search, i);
    double t = at.start + ahead;
    if (!hbk_piece_zero(&at.piece, &t, &across) ||
        fabs(t - at.start - 0.5) > 0.5 + REACH ||
        is_known(search, at.origin + t)) {
        return;
    }
    const double zero = t;
    if (fabs(at.origin + zero - search->last_zero) < SAME_ZERO) {
        return; /* both its neighbours on the grid see it */
    }
    search->last_zero = at.origin + zero;
    struct hbk_spot spot;
    hbk_piece_at(&at.piece, zero, &spot);
    if (fabs(spot.rise) * across > DROWNED * spot.p2 * spot.u2) {
        return;
    }
    if (hbk_piece_maximum_near(&at.piece, REACH, &t, &spot)) {
        keep(search, &at, t, &spot);
    } else {
        look_closely(search, &at, zero - REACH, zero + REACH, REACH_PIECES);
    }
}

/*
 * Whether grid point i sees a zero of U near the axis within one step, ahead or
 * behind. The same as its view, without a division.
 */
static inline bool sees_zero(const struct hbk_maxima_scratch *scratch, size_t i)
{
    const double slope = scratch->flow_slope[i];
    const double square = scratch->flow_square[i];
    return fabs(slope) < square && (scratch->u2[i] * square) - (slope * slope) <
                                       FAR * FAR * square * square;
}

/* The zeros of U that grid point i sees on its two sides. */
static void take_view(struct search *search, size_t i)
{
    const struct hbk_turns_view seen = view(search->scratch, i);
    if (seen.along >= 0.0) {
        take_zero(search, i, seen.along, seen.across);
    } else if (i > 0) {
        take_zero(search, i - 1, 1.0 + seen.along, seen.across);
    }
}

/* Fewer neighbours at an end. */
static double end_difference(const double *y, size_t i, size_t n)
{
    if (i >= 2 && i + 2 < n) {
        return ((2.0 / 3.0) * (y[i + 1] - y[i - 1])) -
               ((1.0 / 12.0) * (y[i + 2] - y[i - 2]));
    }
    const size_t before = i > 0 ? i - 1 : 0;
    const size_t after = i + 1 < n ? i + 1 : i;
    return (y[after] - y[before]) / (double)(after - before);
}

/* From the derivatives d of the parts at grid point i. */
static void end_slopes(const struct hbk_field *field,
                       const struct hbk_maxima_scratch *scratch, size_t i)
{
    const size_t n = field->n;
    const double pr = field->pr[i];
    const double pi = field->pi[i];
    const double ur = field->ur[i];
    const double ui = field->ui[i];
    const double dur = end_difference(field->ur, i, n);
    const double dui = end_difference(field->ui, i, n);
    const double dp = (pr * end_difference(field->pr, i, n)) +
                      (pi * end_difference(field->pi, i, n));
    const double du = (ur * dur) + (ui * dui);
    scratch->p2[i] = (pr * pr) + (pi * pi);
    scratch->u2[i] = (ur * ur) + (ui * ui);
    scratch->flow_slope[i] = du;
    scratch->flow_square[i] = (dur * dur) + (dui * dui);
    scratch->rise[i] = (dp * scratch->u2[i]) - (scratch->p2[i] * du);
}

/* The arrays of struct hbk_maxima_scratch over a few grid points. */
enum { BLOCK = 16 };
struct block {
    double p2[BLOCK], u2[BLOCK], rise[BLOCK];
    double flow_slope[BLOCK], flow_square[BLOCK];
};

/*
 * Half of (|p|^2)' |U|^2 - |p|^2 (|U|^2)' at some grid points, and what it is
 * made of. p and U are differentiated, not their squares: near a zero of U the
 * square is small beside its neighbours and a difference of it would be all
 * error.
 */
static void slope_block(const double *pr, const double *pi, const double *ur,
                        const double *ui, struct block *restrict block)
{
    for (size_t i = 0; i < BLOCK; i++) {
        const double dpr = hbk_turns_difference(pr + i);
        const double dpi = hbk_turns_difference(pi + i);
        const double dur = hbk_turns_difference(ur + i);
        const double dui = hbk_turns_difference(ui + i);
        const double p = (pr[i] * pr[i]) + (pi[i] * pi[i]);
        const double u = (ur[i] * ur[i]) + (ui[i] * ui[i]);
        const double dp = (pr[i] * dpr) + (pi[i] * dpi);
        const double du = (ur[i] * dur) + (ui[i] * dui);
        block->p2[i] = p;
        block->u2[i] = u;
        block->flow_slope[i] = du;
        block->flow_square[i] = (dur * dur) + (dui * dui);
        block->rise[i] = (dp * u) - (p * du);
    }
}

static void slopes(const struct hbk_field *field,
                   const struct hbk_maxima_scratch *scratch)
{
    const size_t n = field->n;
    size_t i = 3;
    for (;;) {
        struct block block;
        slope_block(field->pr + i, field->pi + i, field->ur + i, field->ui + i,
                    &block);
        memcpy(scratch->p2 + i, block.p2, sizeof(block.p2));
        memcpy(scratch->u2 + i, block.u2, sizeof(block.u2));
        memcpy(scratch->rise + i, block.rise, sizeof(block.rise));
        memcpy(scratch->flow_slope + i, block.flow_slope,
               sizeof(block.flow_slope));
        memcpy(scratch->flow_square + i, block.flow_square,
               sizeof(block.flow_square));
        if (i + BLOCK + 3 == n) {
            break;
        }
        /* The last block overlaps the one before it. */
        i = i + (2 * BLOCK) + 3 <= n ? i + BLOCK : n - 3 - BLOCK;
    }
    for (size_t k = 0; k < 3; k++) {
        end_slopes(field, scratch, k);
        end_slopes(field, scratch, n - 1 - k);
    }
}

/* Whether the slope nearly touches 0 at grid point i without crossing it. */
static bool is_suspect(const struct hbk_maxima_scratch *scratch, size_t n,
                       size_t i)
{
    const double *const rise = scratch->rise;
    if (i + 1 >= n) {
        return false;
    }
    const double here = scratch->p2[i] * scratch->u2[i];
    if (fabs(rise[i]) > 0.5 * SUSPECT * here || i == 0) {
        return false;
    }
    const bool up = rise[i] > 0.0;
    if ((rise[i - 1] > 0.0) != up || (rise[i + 1] > 0.0) != up) {
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
    for (size_t i = 1; i < n; i++) {
        for (size_t j = i; maxima[i].partial != 0 && j-- > 0;) {
            if (maxima[j].partial != maxima[i].partial) {
                continue;
            }
            if (maxima[j].height >= maxima[i].height) {
                maxima[i].partial = 0;
            } else {
                maxima[j].partial = 0;
            }
        }
    }
}

size_t hbk_maxima_find(const struct hbk_field *field,
                       const struct hbk_maxima_scratch *scratch, size_t room,
                       struct hbk_maximum maxima[])
{
    const size_t n = field->n;
    if (n < BLOCK + 6) {
        return 0;
    }
    struct search search = {.field = field,
                            .scratch = scratch,
                            .room = room,
                            .maxima = maxima,
                            .last_zero = -1.0};
    slopes(field, scratch);
    hbk_turns_unwind(n, field->ur, field->ui, scratch->quarter);
    const double *const rise = scratch->rise;
    for (size_t i = 0; i + 1 < n; i++) {
        if (rise[i] > 0.0 && rise[i + 1] <= 0.0) {
            take_bracket(&search, i);
        }
    }
    bool suspect = false;
    for (size_t i = 0; i + 1 < n; i++) {
        const bool suspect_next = is_suspect(scratch, n, i + 1);
        if (sees_zero(scratch, i)) {
            take_view(&search, i);
        }
        if ((suspect || suspect_next) &&
            (rise[i] > 0.0) == (rise[i + 1] > 0.0)) {
            take_suspect(&search, i);
        }
        suspect = suspect_next;
    }
    drop_doubles(search.count, maxima);
    return search.count;
}
