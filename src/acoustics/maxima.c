#include "acoustics/maxima.h"

#include "acoustics/phase.h"
#include "acoustics/piece.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>

enum { NODES = HBK_PIECE_NODES, PARTS = HBK_PIECE_PARTS };

/*
 * A piece of the grid is crowded when the tangents of `rise` at its two ends,
 * both heading for 0 into it, meet 0 in less than this part of its width,
 * taken together. A hump of second degree between ends of one sign that has two
 * zeros comes to 1/2 at most, and ends of opposite sign with three zeros of
 * third degree between them to 1/3; one zero alone comes to 1. What is more
 * than that allows for the higher degrees.
 */
static const double CROWDED_HUMP = 1.0;
static const double CROWDED_CROSSING = 0.45;
/* How often a crowded piece is cut in two. */
enum { CUTS_MAX = 12 };
/* How often a maximum that hides beside a minimum is looked for. */
enum { HALVES_MAX = 4 };
/* A cut is kept this far from the ends, of the width. */
static const double CUT_EDGE = 0.125;
/*
 * Two grid points that see zeros of U in opposite order see one and the same
 * when they lie this near together, in grid steps.
 */
static const double ONE_ZERO = 0.25;
/* What is this near the axis is sharp, in grid steps. */
static const double SHARP = 0.2;
/* How far outside its bracket a maximum may turn out, of the width. */
static const double MARGIN = 0.25;
/* Maxima nearer to each other than this are one, in grid steps. */
static const double SAME = 1e-3;
/* |U|^2 this small beside its neighbour is a zero but for rounding. */
static const double NOISE = 1e-9;

/* Stand-ins for what is infinite in a column without losses. */
static const double HIGHEST = 1e300;
static const double SHARPEST = 1e9;

/* The slope of |Z| at one place. */
struct end {
    double t, rise, bend;
};

/* One interval of the grid and the polynomials there. */
struct place {
    struct hbk_piece piece;
    double origin; /* grid place of t = 0 */
    double start;  /* t of grid point i */
};

/* Plain maxima that wait to be found together: one between each a and b. */
enum { TOGETHER = HBK_PIECE_TOGETHER };
struct waiting {
    size_t n;
    struct place at[TOGETHER];
    struct end a[TOGETHER], b[TOGETHER];
};

struct search {
    const struct hbk_field *field;
    const struct hbk_maxima_scratch *scratch;
    struct waiting waiting;
    double lead; /* whole turns, in quarters, that U starts ahead of the end */
    size_t room;
    size_t count;
    struct hbk_maximum *maxima;
};

static void place_at(const struct search *search, size_t i, struct place *place)
{
    const struct hbk_field *const field = search->field;
    const size_t before = (NODES / 2) - 1;
    size_t first = i < before ? 0 : i - before;
    first = first + NODES > field->n ? field->n - NODES : first;
    const double *const part[PARTS] = {field->pr + first, field->pi + first,
                                       field->ur + first, field->ui + first};
    hbk_piece_fit(part, first + before == i, &place->piece);
    place->origin = (double)first + (0.5 * (NODES - 1));
    place->start = (double)i - place->origin;
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
                   hbk_phase_within(field->endr[i + k], field->endi[i + k]);
    }
    double share = g - (double)i;
    share = share > 0.0 ? share : 0.0;
    share = share < 1.0 ? share : 1.0;
    return phase[0] + (share * (phase[1] - phase[0]));
}

static unsigned number_of(const struct search *search,
                          const struct hbk_spot *spot, double g)
{
    const struct hbk_field *const field = search->field;
    const int *const quarter = search->scratch->quarter;
    const double re = spot->re[1];
    const double im = spot->im[1];
    const size_t i = floor_point(g, field->n - 1);
    double here = (double)quarter[i];
    if (spot->u2 > NOISE * search->scratch->slopes.u2[i]) {
        here += (double)hbk_phase_between(quarter[i] & 3,
                                          hbk_phase_quadrant(re, im)) +
                hbk_phase_within(re, im);
    } else {
        /* A zero of U that is real but for rounding: half of its half turn. */
        here += hbk_phase_within(field->ur[i], field->ui[i]) + 1.0;
    }
    const double half_turns = 0.5 * (here - search->lead - end_phase(field, g));
    return half_turns < 0.0 ? 1U : 1U + (unsigned)half_turns;
}

/* Puts a maximum in its place in the list, once. */
static void keep(struct search *search, const struct place *at, double t,
                 const struct hbk_spot *spot)
{
    const struct hbk_field *const field = search->field;
    const double g = at->origin + t;
    const double hz = field->step_hz * (g + 1.0);
    if (!(hz > 0.0 && hz <= field->limit_hz)) {
        return;
    }
    struct hbk_maximum *const maxima = search->maxima;
    size_t place = search->count;
    while (place > 0 && maxima[place - 1].hz > hz) {
        place--;
    }
    const double same = SAME * field->step_hz;
    if ((place > 0 && hz - maxima[place - 1].hz < same) ||
        (place < search->count && maxima[place].hz - hz < same) ||
        place == search->room) {
        return;
    }
    /* They come in any order: without room the uppermost has to go. */
    search->count -= search->count == search->room ? 1 : 0;
    for (size_t i = search->count; i > place; i--) {
        maxima[i] = maxima[i - 1];
    }
    const double u2 = fmax(spot->u2, 1e-300);
    const double half_width =
        field->step_hz * sqrt(spot->p2 * spot->u2 / -spot->curvature);
    const unsigned number = number_of(search, spot, g);
    maxima[place] = (struct hbk_maximum){
        .hz = hz,
        .height = fmin(sqrt(spot->p2 / u2), HIGHEST),
        .q = hz / fmax(2.0 * half_width, hz / SHARPEST),
        .partial = number,
        .claim = number,
    };
    search->count++;
}

/*
 * Whether more zeros of `rise` may lie between two places than the signs there
 * tell: when the cubic through both ends has the other sign in the middle, or
 * see CROWDED_HUMP. Of two pieces at a time: rise, and bend times the width of
 * the piece, at their left ends a and right ends b.
 */
static inline hbk_sides crowded(hbk_pair a_rise, hbk_pair a_bend,
                                hbk_pair b_rise, hbk_pair b_bend)
{
    /* 8 times the cubic in the middle, less a quarter of the chord there. */
    const hbk_pair middle = (3.0 * (a_rise + b_rise)) + (a_bend - b_bend);
    const hbk_pair tangents = (hbk_pair_size(a_rise) * hbk_pair_size(b_bend)) +
                              (hbk_pair_size(b_rise) * hbk_pair_size(a_bend));
    const hbk_pair bends = hbk_pair_size(a_bend * b_bend);
    const hbk_sides hump =
        (a_rise * b_rise > 0.0) & (tangents < CROWDED_HUMP * bends);
    const hbk_sides few = tangents < CROWDED_CROSSING * bends;
    return ((a_rise * middle < 0.0) & (b_rise * middle < 0.0)) |
           ((a_rise * a_bend < 0.0) & (b_rise * b_bend > 0.0) & (hump | few));
}

static inline bool is_crowded(struct end a, struct end b)
{
    const double width = b.t - a.t;
    const hbk_pair a_rise = {a.rise, a.rise};
    const hbk_pair a_bend = {width * a.bend, width * a.bend};
    const hbk_pair b_rise = {b.rise, b.rise};
    const hbk_pair b_bend = {width * b.bend, width * b.bend};
    return crowded(a_rise, a_bend, b_rise, b_bend)[0] != 0;
}

static inline bool has_maximum(struct end a, struct end b)
{
    return a.rise > 0.0 && b.rise <= 0.0;
}

/* Where the cubic through both ends with their slopes has its zero. */
static double cubic_zero(const struct end *a, const struct end *b)
{
    const double width = b->t - a->t;
    const double c1 = a->bend * width;
    const double fall = b->rise - a->rise;
    const double c2 = (3.0 * fall) - (2.0 * c1) - (b->bend * width);
    const double c3 = c1 + (b->bend * width) - (2.0 * fall);
    double s = a->rise / -fall;
    for (int i = 0; i < 2; i++) {
        const double value = a->rise + (s * (c1 + (s * (c2 + (s * c3)))));
        const double slope = c1 + (s * ((2.0 * c2) + (3.0 * s * c3)));
        const double next = s - (value / slope);
        if (!(slope < 0.0 && next > 0.0 && next < 1.0)) {
            break;
        }
        s = next;
    }
    return a->t + (s * width);
}

static struct end end_at(const struct place *at, double t)
{
    struct hbk_spot spot;
    hbk_piece_at(&at->piece, t, &spot);
    return (struct end){t, spot.rise, spot.curvature};
}

/*
 * The maximum between a and b. Where an end lies on a minimum but for rounding,
 * Newton's method is drawn to it; then the other half is tried.
 */
static void take_bracket(struct search *search, const struct place *at,
                         struct end a, struct end b)
{
    for (int i = 0; i < HALVES_MAX; i++) {
        const double part = MARGIN * (b.t - a.t);
        const double margin = part > SAME ? part : SAME;
        struct hbk_spot spot;
        double t = cubic_zero(&a, &b);
        if (hbk_piece_maximum(&at->piece, a.t - margin, b.t + margin, &t,
                              &spot)) {
            keep(search, at, t, &spot);
            return;
        }
        const struct end middle = end_at(at, 0.5 * (a.t + b.t));
        if (middle.rise > 0.0) {
            a = middle;
        } else {
            b = middle;
        }
    }
}

static void take_waiting(struct search *search)
{
    struct waiting *const waiting = &search->waiting;
    const struct hbk_piece *piece[TOGETHER];
    double t[TOGETHER];
    struct hbk_spot spot[TOGETHER];
    for (size_t k = 0; k < waiting->n; k++) {
        piece[k] = &waiting->at[k].piece;
        t[k] = cubic_zero(&waiting->a[k], &waiting->b[k]);
    }
    const unsigned found = hbk_piece_two_steps(waiting->n, piece, t, spot);
    for (size_t k = 0; k < waiting->n; k++) {
        const struct end a = waiting->a[k];
        const struct end b = waiting->b[k];
        if (((found >> k) & 1) != 0 && t[k] > a.t - MARGIN &&
            t[k] < b.t + MARGIN) {
            keep(search, &waiting->at[k], t[k], &spot[k]);
        } else {
            take_bracket(search, &waiting->at[k], a, b);
        }
    }
    waiting->n = 0;
}

/*
 * The end at t or, if a zero of U near the axis is seen from there between low
 * and high, at that zero: |Z| has a sharp maximum so near to it that the way
 * there counts.
 */
static struct end end_by_zero(const struct place *at, double t, double low,
                              double high)
{
    struct hbk_spot spot;
    hbk_piece_at(&at->piece, t, &spot);
    const double sharp = SHARP * spot.square;
    const double zero = t - (spot.slope / spot.square);
    if ((spot.u2 * spot.square) - (spot.slope * spot.slope) < sharp * sharp &&
        fabs(zero - t) < SHARP && zero > low && zero < high) {
        return end_at(at, zero);
    }
    return (struct end){t, spot.rise, spot.curvature};
}

/* Where to cut a crowded piece: at the top of a hump, or in the middle. */
static double cut_at(const struct end *a, const struct end *b)
{
    double part = 0.5;
    if (a->rise * a->bend < 0.0 && b->rise * b->bend > 0.0 &&
        (a->rise > 0.0) == (b->rise > 0.0)) {
        part = a->bend / (a->bend - b->bend);
        part = fmin(fmax(part, CUT_EDGE), 1.0 - CUT_EDGE);
    }
    return a->t + (part * (b->t - a->t));
}

/*
 * Every maximum between a.t and the places ahead, which are given from right to
 * left: n of them, with room for CUTS_MAX more.
 */
static void look_closely(struct search *search, const struct place *at,
                         struct end a, size_t n, struct end ahead[])
{
    const size_t n_max = n + CUTS_MAX;
    while (n > 0) {
        const struct end b = ahead[n - 1];
        if (n < n_max && is_crowded(a, b)) {
            ahead[n++] = end_at(at, cut_at(&a, &b));
            continue;
        }
        if (has_maximum(a, b)) {
            take_bracket(search, at, a, b);
        }
        a = b;
        n--;
    }
}

/*
 * Where zeros of U are seen from grid points i and i + 1, from that grid point,
 * by rising frequency: none that needs looking at; one; or two, and the middle
 * between them, where |Z| may have its minimum.
 */
static size_t zeros_seen(const struct hbk_slopes *slopes, size_t i,
                         bool is_bracket, double cut[3])
{
    const double left = slopes->zero[i];
    const double right = slopes->zero[i + 1] + 1.0;
    const bool by_left = left < 1.0;
    const bool by_right = right < 2.0;
    if (by_left && by_right && right - left > ONE_ZERO) {
        cut[0] = left;
        cut[1] = 0.5 * (left + right);
        cut[2] = right;
        return 3;
    }
    if (is_bracket || !(by_left || by_right)) {
        return 0;
    }
    const bool nearer = by_left && (!by_right || left + right < 1.0);
    cut[0] = nearer ? left : right;
    return 1;
}

/*
 * The maxima between grid points i and i + 1. A zero of U that either sees
 * there has a maximum close by, or none: `rise` is looked at there too.
 */
static void look(struct search *search, size_t i)
{
    const struct hbk_slopes *const slopes = &search->scratch->slopes;
    struct waiting *const waiting = &search->waiting;
    struct place *const at = &waiting->at[waiting->n];
    place_at(search, i, at);
    const struct end a = {at->start, slopes->rise[i], slopes->bend[i]};
    const struct end b = {at->start + 1.0, slopes->rise[i + 1],
                          slopes->bend[i + 1]};
    const bool is_bracket = has_maximum(a, b);
    double cut[3];
    const size_t cuts = zeros_seen(slopes, i, is_bracket, cut);
    if (is_bracket && cuts == 0 && !is_crowded(a, b)) {
        waiting->a[waiting->n] = a;
        waiting->b[waiting->n] = b;
        waiting->n++;
        if (waiting->n == TOGETHER) {
            take_waiting(search);
        }
        return;
    }
    struct end ahead[CUTS_MAX + 4];
    ahead[0] = b;
    size_t n = 1;
    for (size_t k = cuts; k-- > 0;) {
        if (cut[k] > 0.0 && cut[k] < 1.0) {
            ahead[n] = end_by_zero(at, at->start + cut[k], a.t, ahead[n - 1].t);
            n++;
        }
    }
    look_closely(search, at, a, n, ahead);
}

/*
 * Which of BLOCK intervals from grid point i on must be looked at: those with a
 * maximum, those that may hide one, and those in which a zero of U is seen.
 */
enum { BLOCK = HBK_MARKS };
static uint32_t mark_block(const struct hbk_slopes *slopes, size_t i)
{
    hbk_sides marks = {0, 0};
    for (size_t k = 0; k < BLOCK; k += 2) {
        const hbk_pair a_rise = hbk_pair_at(slopes->rise + i + k);
        const hbk_pair b_rise = hbk_pair_at(slopes->rise + i + k + 1);
        const hbk_pair a_zero = hbk_pair_at(slopes->zero + i + k);
        const hbk_pair b_zero = hbk_pair_at(slopes->zero + i + k + 1);
        const hbk_sides seen =
            ((a_zero > 0.0) & (a_zero < 1.0)) | (b_zero < 0.0);
        const hbk_sides maximum = (a_rise > 0.0) & (b_rise <= 0.0);
        hbk_marks_add(&marks, k,
                      seen | maximum |
                          crowded(a_rise, hbk_pair_at(slopes->bend + i + k),
                                  b_rise,
                                  hbk_pair_at(slopes->bend + i + k + 1)));
    }
    return hbk_marks_of(marks);
}

static void look_through(struct search *search)
{
    const struct hbk_slopes *const slopes = &search->scratch->slopes;
    const struct hbk_field *const field = search->field;
    const double last = ceil(field->limit_hz / field->step_hz) + 1.0;
    size_t end = field->n - 4;
    end = last < (double)end ? (size_t)last : end;
    end = end < BLOCK ? BLOCK : end;
    for (size_t first = 0; first < end; first += BLOCK) {
        /* The last block overlaps the one before it. */
        const size_t from = first + BLOCK <= end ? first : end - BLOCK;
        uint32_t marks = mark_block(slopes, from);
        marks &= ~0U << (first - from);
        for (; marks != 0; marks &= marks - 1) {
            look(search, from + hbk_marks_first(marks));
        }
    }
    take_waiting(search);
}

/* At the first grid points, where the differences do not reach. */
static void first_slopes(const struct search *search)
{
    const struct hbk_slopes *const slopes = &search->scratch->slopes;
    struct place at;
    place_at(search, 0, &at);
    for (size_t i = 0; i < 3; i++) {
        struct hbk_spot spot;
        hbk_piece_at(&at.piece, (double)i - at.origin, &spot);
        slopes->rise[i] = spot.rise;
        slopes->bend[i] = spot.curvature;
        slopes->u2[i] = spot.u2;
        slopes->zero[i] = HBK_SLOPES_UNSEEN;
    }
}

/* Of maxima with one number the highest keeps it. */
static void drop_doubles(size_t n, struct hbk_maximum maxima[])
{
    unsigned highest = 0;
    for (size_t i = 0; i < n; i++) {
        if (maxima[i].partial > highest) {
            highest = maxima[i].partial;
            continue;
        }
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
    if (n < HBK_SLOPES_LEAST) {
        return 0;
    }
    /* What waits is not set to 0, which would take its time. */
    struct search search;
    search.field = field;
    search.scratch = scratch;
    search.waiting.n = 0;
    search.room = room;
    search.count = 0;
    search.maxima = maxima;
    const struct hbk_slopes *const slopes = &scratch->slopes;
    const struct hbk_slopes_of of = {
        n, {field->pr, field->pi, field->ur, field->ui}};
    hbk_slopes_set(&of, slopes);
    first_slopes(&search);
    hbk_phase_unwind_seen(n, field->ur, field->ui, slopes->zero,
                          scratch->quarter);
    /* Both phases start within the first half turn: undo whole turns. */
    const double ahead = (double)(scratch->quarter[0] - field->end_quarter[0]);
    search.lead = 4.0 * floor((ahead + 1.5) / 4.0);
    look_through(&search);
    drop_doubles(search.count, maxima);
    return search.count;
}
