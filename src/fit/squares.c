#include "fit/squares.h"

#include "base/cholesky.h"

#include <math.h>
#include <string.h>

enum { STEPS_MAX = 25, HALVINGS_MAX = 8 };

/* A step below a thousandth of what is uncertain changes nothing. */
static const double small_step = 1e-3;

/* Slopes are computed again after going this far. */
static const double far_enough = 0.05;

/*
 * A fit that is held up this far from where its slopes point, in prior standard
 * deviations, stands before a note that goes from one hump to another.
 */
static const double held_up = 0.02;

/* Room for a step: k deviations, n cents twice; and the lift that is held. */
struct room {
    double *moved, *cents, *expected;
    double *lift; /* NULL while nothing is held */
};

static double square(double x)
{
    return x * x;
}

static double bend_of(const struct hbk_squares *s, size_t i)
{
    return s->bend == NULL ? (double)INFINITY : s->bend[i];
}

double hbk_squares_share(double rest, double sd, double bend)
{
    const double off = fabs(rest);
    return off <= bend ? square(off / sd)
                       : ((2.0 * off) - bend) * bend / square(sd);
}

/* By which the square of what reading i is off counts. */
static double weight_of(const struct hbk_squares *s, size_t i)
{
    const double off = fabs(s->heard[i] - s->predicted[i]);
    const double bend = bend_of(s, i);
    return (off <= bend ? 1.0 : bend / off) / square(s->sd[i]);
}

/* The sum that is made least; NAN where a used reading has no partial. */
static double misfit(const struct hbk_squares *s, const double d[],
                     const double predicted[])
{
    double sum = 0.0;
    for (size_t i = 0; i < s->soundings->n; i++) {
        if (s->is_used[i]) {
            sum += hbk_squares_share(s->heard[i] - predicted[i], s->sd[i],
                                     bend_of(s, i));
        }
    }
    for (size_t p = 0; p < s->parameters->n; p++) {
        sum += square(d[p] / s->parameters->items[p].sd);
    }
    return sum;
}

/* J' W J + 1 into `matrix`, J' W r - z into `right`. */
static void normal_equations(const struct hbk_squares *s, double matrix[],
                             double right[])
{
    const size_t k = s->parameters->n;
    memset(matrix, 0, k * k * sizeof(*matrix));
    for (size_t p = 0; p < k; p++) {
        matrix[(p * k) + p] = 1.0;
        right[p] = -s->d[p] / s->parameters->items[p].sd;
    }
    for (size_t i = 0; i < s->soundings->n; i++) {
        if (!s->is_used[i]) {
            continue;
        }
        const double weight = weight_of(s, i);
        const double rest = s->heard[i] - s->predicted[i];
        const double *const slope = &s->slopes[i * k];
        for (size_t p = 0; p < k; p++) {
            right[p] += weight * slope[p] * rest;
            for (size_t q = 0; q <= p; q++) {
                matrix[(p * k) + q] += weight * slope[p] * slope[q];
            }
        }
    }
}

/* Where the resonances are expected after a share of a step. */
static void expect(const struct hbk_squares *s, const double step[],
                   double share, double cents[])
{
    const size_t k = s->parameters->n;
    for (size_t i = 0; i < s->soundings->n; i++) {
        cents[i] = s->predicted[i];
        for (size_t p = 0; p < k; p++) {
            cents[i] += share * step[p] * s->slopes[(i * k) + p];
        }
    }
}

/*
 * Goes by `step` (in prior standard deviations), or by a half, a quarter ...
 * of it. Returns how far, 0 for nowhere.
 */
static double advance(struct hbk_squares *s, const double step[],
                      struct room *room)
{
    double *const moved = room->moved;
    double *const cents = room->cents;
    const size_t k = s->parameters->n;
    const double before = misfit(s, s->d, s->predicted);
    double share = 1.0;
    for (int i = 0; i < HALVINGS_MAX; i++, share *= 0.5) {
        for (size_t p = 0; p < k; p++) {
            moved[p] = s->d[p] + (share * step[p] * s->parameters->items[p].sd);
        }
        expect(s, step, share, room->expected);
        const enum hbk_status status =
            room->lift == NULL
                ? hbk_predict(s->parameters, moved, s->soundings,
                              room->expected, cents)
                : hbk_predict_held(s->parameters, moved, s->soundings,
                                   room->expected, room->lift, cents);
        if (status == HBK_OK && misfit(s, moved, cents) < before) {
            memcpy(s->d, moved, k * sizeof(*moved));
            memcpy(s->predicted, cents, s->soundings->n * sizeof(*cents));
            return share;
        }
    }
    return 0.0;
}

static void fill_leverage(struct hbk_squares *s)
{
    const size_t k = s->parameters->n;
    for (size_t i = 0; i < s->soundings->n; i++) {
        s->leverage[i] =
            s->is_used[i] ? hbk_squares_variance(k, &s->slopes[i * k], s->cov) *
                                weight_of(s, i)
                          : 0.0;
    }
}

double hbk_squares_variance(size_t k, const double slope[], const double cov[])
{
    double sum = 0.0;
    for (size_t p = 0; p < k; p++) {
        double row = 0.0;
        for (size_t q = 0; q < k; q++) {
            row += cov[(p * k) + q] * slope[q];
        }
        sum += slope[p] * row;
    }
    return sum;
}

/* What one descent works with. */
struct descent {
    struct room room;
    double *matrix, *step;
    double left; /* of the last step, not gone */
};

/* Steps until they change nothing. */
static enum hbk_status descend(struct hbk_squares *s, struct descent *way)
{
    const size_t k = s->parameters->n;
    for (int i = 0; i < STEPS_MAX; i++) {
        if (s->strayed > far_enough) {
            HBK_TRY(hbk_predict_slopes(s->parameters, s->d, s->soundings,
                                       s->predicted, s->slopes));
            s->strayed = 0.0;
        }
        normal_equations(s, way->matrix, way->step);
        /* 1 was added to the diagonal, so only a NaN could fail here. */
        if (!hbk_cholesky(k, way->matrix)) {
            return HBK_ERR_DOMAIN;
        }
        hbk_cholesky_inverse(k, way->matrix, s->cov);
        hbk_cholesky_solve(k, way->matrix, way->step);
        way->left = 0.0;
        for (size_t p = 0; p < k; p++) {
            way->left = fmax(way->left, fabs(way->step[p]));
        }
        const double share =
            way->left > small_step ? advance(s, way->step, &way->room) : 0.0;
        if (share == 0.0) {
            break;
        }
        s->strayed += share * way->left;
    }
    return HBK_OK;
}

/* What is heard at d, near where it was, and its lift. */
static enum hbk_status hear(struct hbk_squares *s, const struct room *room,
                            double lift[])
{
    memcpy(room->expected, s->predicted,
           s->soundings->n * sizeof(*room->expected));
    return hbk_predict_lift(s->parameters, s->d, s->soundings, room->expected,
                            s->predicted, lift);
}

/*
 * Goes on from where a note that jumps holds the descent up: with the lift of
 * every note held, and then from there as they are heard. What comes out better
 * is kept.
 */
static enum hbk_status go_round(struct hbk_squares *s, struct descent *way,
                                struct hbk_arena *arena)
{
    const size_t k = s->parameters->n;
    const size_t n = s->soundings->n;
    double *const d = HBK_ARENA_ARRAY(arena, double, k + 1);
    double *const predicted = HBK_ARENA_ARRAY(arena, double, n + 1);
    double *const lift = HBK_ARENA_ARRAY(arena, double, n + 1);
    const double before = misfit(s, s->d, s->predicted);
    memcpy(d, s->d, k * sizeof(*d));
    memcpy(predicted, s->predicted, n * sizeof(*predicted));
    HBK_TRY(hear(s, &way->room, lift));
    way->room.lift = lift;
    const enum hbk_status held = descend(s, way);
    way->room.lift = NULL;
    HBK_TRY(held);
    HBK_TRY(hear(s, &way->room, lift));
    HBK_TRY(descend(s, way));
    if (!(misfit(s, s->d, s->predicted) < before)) {
        memcpy(s->d, d, k * sizeof(*d));
        memcpy(s->predicted, predicted, n * sizeof(*predicted));
        s->strayed = INFINITY;
        HBK_TRY(descend(s, way));
    }
    return HBK_OK;
}

static enum hbk_status solve(struct hbk_squares *s, struct hbk_arena *arena)
{
    const size_t k = s->parameters->n;
    const size_t n = s->soundings->n;
    struct descent way = {
        .room = {.moved = HBK_ARENA_ARRAY(arena, double, k + 1),
                 .cents = HBK_ARENA_ARRAY(arena, double, n + 1),
                 .expected = HBK_ARENA_ARRAY(arena, double, n + 1)},
        .matrix = HBK_ARENA_ARRAY(arena, double, (k * k) + 1),
        .step = HBK_ARENA_ARRAY(arena, double, k + 1),
    };
    double *const lift = HBK_ARENA_ARRAY(arena, double, n + 1);
    HBK_TRY(hear(s, &way.room, lift));
    HBK_TRY(descend(s, &way));
    if (way.left > held_up) {
        HBK_TRY(go_round(s, &way, arena));
    }
    fill_leverage(s);
    s->sum = misfit(s, s->d, s->predicted);
    return HBK_OK;
}

enum hbk_status hbk_squares_solve(struct hbk_squares *squares)
{
    struct hbk_arena scratch = {0};
    const enum hbk_status status = solve(squares, &scratch);
    hbk_arena_finish(&scratch);
    return status;
}
