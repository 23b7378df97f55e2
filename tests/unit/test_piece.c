#include "support/check.h"

#include "acoustics/piece.h"

#include "base/cplx.h"

enum { NODES = HBK_PIECE_NODES, PARTS = HBK_PIECE_PARTS };

static struct hbk_piece piece_of(double complex (*p)(double),
                                 double complex (*u)(double))
{
    double y[PARTS][NODES];
    for (size_t i = 0; i < NODES; i++) {
        const double t = (double)i - (0.5 * (NODES - 1));
        y[0][i] = creal(p(t));
        y[1][i] = cimag(p(t));
        y[2][i] = creal(u(t));
        y[3][i] = cimag(u(t));
    }
    const double *const part[PARTS] = {y[0], y[1], y[2], y[3]};
    struct hbk_piece piece;
    hbk_piece_fit(part, false, &piece);
    return piece;
}

static double complex ninth(double t)
{
    return hbk_cplx((0.3 * pow(t, 9.0)) - (7.0 * pow(t, 4.0)) + 2.1,
                    pow(t, 8.0) - (3.0 * t));
}

/* A wave that turns by 2 pi / 14 from one point to the next. */
static double complex wave(double t)
{
    return cexp(hbk_cplx(0.011 * t, 0.4488 * t));
}

static double complex zero_ahead(double t)
{
    return (t - hbk_cplx(0.217, 0.134)) * cexp(hbk_cplx(0.0, 0.31 * t));
}

static double complex two_zeros(double t)
{
    return zero_ahead(t) * (t - hbk_cplx(-2.3, 0.21));
}

static double complex steady(double t)
{
    (void)t;
    return hbk_cplx(0.7, -0.4);
}

static void polynomials_of_degree_nine_are_exact(void **state)
{
    (void)state;
    const struct hbk_piece piece = piece_of(ninth, ninth);
    struct hbk_spot spot;
    for (double t = -1.03; t < 1.1; t += 0.171) {
        hbk_piece_at(&piece, t, &spot);
        check_abs(spot.re[0], creal(ninth(t)), 1e-7);
        check_abs(spot.im[1], cimag(ninth(t)), 1e-7);
    }
}

/* The bound that the grid of the sections rests on. */
static void waves_are_missed_by_less_than_the_stated_bound(void **state)
{
    (void)state;
    const struct hbk_piece piece = piece_of(wave, steady);
    struct hbk_spot spot;
    const double bound = 2.4e-4 * pow(0.4488, 10.0) * 1.1;
    for (double t = -0.5; t <= 0.5; t += 0.0625) {
        hbk_piece_at(&piece, t, &spot);
        check_abs(spot.re[0], creal(wave(t)), bound);
        check_abs(spot.im[0], cimag(wave(t)), bound);
    }
}

static void the_slope_is_the_derivative(void **state)
{
    (void)state;
    const struct hbk_piece piece = piece_of(wave, zero_ahead);
    const double h = 1e-5;
    struct hbk_spot here;
    struct hbk_spot ahead;
    struct hbk_spot back;
    hbk_piece_at(&piece, 0.317, &here);
    hbk_piece_at(&piece, 0.317 + h, &ahead);
    hbk_piece_at(&piece, 0.317 - h, &back);
    const double dp2 = (ahead.p2 - back.p2) / (2.0 * h);
    const double du2 = (ahead.u2 - back.u2) / (2.0 * h);
    check_rel(here.rise, 0.5 * ((dp2 * here.u2) - (here.p2 * du2)), 1e-8);
    check_rel(here.curvature, (ahead.rise - back.rise) / (2.0 * h), 1e-6);
}

static void the_maximum_lies_by_the_zero_of_the_flow(void **state)
{
    (void)state;
    const struct hbk_piece piece = piece_of(steady, zero_ahead);
    struct hbk_spot spot;
    double t = -0.3;
    assert_true(hbk_piece_maximum(&piece, -0.7, 0.7, &t, &spot));
    check_abs(t, 0.217, 1e-6);
}

static void an_edge_is_no_maximum(void **state)
{
    (void)state;
    const struct hbk_piece piece = piece_of(steady, zero_ahead);
    struct hbk_spot spot;
    double t = 0.6;
    assert_false(hbk_piece_maximum(&piece, 0.5, 0.9, &t, &spot));
    t = -0.3;
    assert_false(hbk_piece_maximum(&piece, -0.5, 0.1, &t, &spot));
    /* Upside down it is a minimum. */
    const struct hbk_piece turned = piece_of(zero_ahead, steady);
    t = 0.2;
    assert_false(hbk_piece_maximum(&turned, 0.0, 0.4, &t, &spot));
}

/* What is near is found together; what is not, or is a minimum, is told. */
static void several_maxima_are_found_at_a_time(void **state)
{
    (void)state;
    const struct hbk_piece peak = piece_of(steady, zero_ahead);
    const struct hbk_piece turned = piece_of(zero_ahead, steady);
    const struct hbk_piece pair = piece_of(steady, two_zeros);
    const struct hbk_piece *const piece[] = {&peak, &turned, &pair, &peak};
    double t[] = {0.2169, 0.2169, -0.31, 0.2171};
    struct hbk_spot spot[4];
    assert_int_equal(hbk_piece_two_steps(4, piece, t, spot), 1U + 8U);
    check_abs(t[0], 0.217, 1e-6);
    check_abs(t[3], 0.217, 1e-6);
    /* |U| there is how far the zero lies off the axis. */
    check_rel(spot[0].u2, 0.134 * 0.134, 1e-6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(polynomials_of_degree_nine_are_exact),
        cmocka_unit_test(waves_are_missed_by_less_than_the_stated_bound),
        cmocka_unit_test(the_slope_is_the_derivative),
        cmocka_unit_test(the_maximum_lies_by_the_zero_of_the_flow),
        cmocka_unit_test(an_edge_is_no_maximum),
        cmocka_unit_test(several_maxima_are_found_at_a_time),
    };
    return cmocka_run_group_tests_name("piece", tests, NULL, NULL);
}
