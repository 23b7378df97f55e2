#include "support/check.h"

#include "acoustics/phase.h"

#include "base/cplx.h"

enum { N = 60 };

/* A function with given zeros and a steady turn, on the grid 0 .. N - 1. */
static void sample(size_t zeros, const double complex zero[], double turn,
                   double re[N], double im[N])
{
    for (size_t i = 0; i < N; i++) {
        double complex w = cexp(hbk_cplx(0.0, turn * (double)i));
        for (size_t k = 0; k < zeros; k++) {
            w *= (double)i - zero[k];
        }
        re[i] = creal(w);
        im[i] = cimag(w);
    }
}

static void quadrants_go_round(void **state)
{
    (void)state;
    assert_int_equal(hbk_phase_quadrant(0.7, 0.3), 0);
    assert_int_equal(hbk_phase_quadrant(-0.7, 0.3), 1);
    assert_int_equal(hbk_phase_quadrant(-0.7, -0.3), 2);
    assert_int_equal(hbk_phase_quadrant(0.7, -0.3), 3);
    /* Rounding beside an axis counts as the axis, the start of a quarter. */
    assert_int_equal(hbk_phase_quadrant(0.7, -1e-16), 0);
    assert_int_equal(hbk_phase_quadrant(1e-16, 0.3), 1);
    assert_int_equal(hbk_phase_quadrant(-0.7, 1e-16), 2);
    assert_int_equal(hbk_phase_quadrant(-1e-16, -0.3), 3);
    assert_int_equal(hbk_phase_between(3, 0), 1);
    assert_int_equal(hbk_phase_between(0, 2), 2);
    assert_int_equal(hbk_phase_between(1, 0), -1);
    assert_int_equal(hbk_phase_between(2, 2), 0);
}

static void the_place_in_a_quarter_follows_the_angle(void **state)
{
    (void)state;
    for (double angle = 0.013; angle < 6.28; angle += 0.07) {
        const double re = 3.7 * cos(angle);
        const double im = 3.7 * sin(angle);
        const double got =
            (double)hbk_phase_quadrant(re, im) + hbk_phase_within(re, im);
        check_abs(got, angle / 1.5707963267949, 0.05);
    }
    check_abs(hbk_phase_within(0.0, 0.0), 0.0, 0.0);
}

/* A zero above the axis turns the phase by half, however near the axis. */
static void every_zero_that_is_passed_counts_half_a_turn(void **state)
{
    (void)state;
    static const double above[] = {0.0, 1e-7, 0.013, 0.21, 0.47};
    for (size_t k = 0; k < 5; k++) {
        const double complex zero[] = {hbk_cplx(11.37, above[k]),
                                       hbk_cplx(24.61, above[k]),
                                       hbk_cplx(39.18, above[k])};
        double re[N];
        double im[N];
        int quarter[N];
        sample(3, zero, 0.3, re, im);
        hbk_phase_unwind(N, re, im, quarter);
        const double turned = (double)(quarter[N - 1] - quarter[0]);
        const double want = (0.3 * (N - 1) / 1.5707963267949) + (2.0 * 3.0);
        check_abs(turned, want, 1.3);
    }
}

static void two_zeros_in_one_interval_count_twice(void **state)
{
    (void)state;
    const double complex zero[] = {hbk_cplx(20.19, 0.11),
                                   hbk_cplx(20.83, 0.14)};
    double re[N];
    double im[N];
    int quarter[N];
    sample(2, zero, 0.3, re, im);
    hbk_phase_unwind(N, re, im, quarter);
    check_abs((double)(quarter[N - 1] - quarter[0]),
              (0.3 * (N - 1) / 1.5707963267949) + 4.0, 1.3);
}

/* The same count from the zeros that the grid points are known to see. */
static void zeros_that_are_seen_need_not_be_looked_for(void **state)
{
    (void)state;
    const double complex zero[] = {hbk_cplx(20.19, 0.11), hbk_cplx(20.83, 0.14),
                                   hbk_cplx(41.3, 0.2)};
    double re[N];
    double im[N];
    int want[N];
    int got[N];
    double seen[N];
    sample(3, zero, 0.3, re, im);
    for (size_t i = 0; i < N; i++) {
        seen[i] = 9.0;
    }
    /* From two sides, as one sees two zeros: each looks nearer. */
    seen[20] = 0.16;
    seen[21] = -0.15;
    seen[41] = 0.3;
    seen[42] = -0.7;
    hbk_phase_unwind(N, re, im, want);
    hbk_phase_unwind_seen(N, re, im, seen, got);
    assert_memory_equal(got, want, sizeof(want));
}

static void two_zeros_are_told_from_one(void **state)
{
    (void)state;
    const struct {
        double complex zero[2];
        size_t n;
        bool two;
    } cases[] = {
        {{hbk_cplx(20.37, 0.23)}, 1, false},
        {{hbk_cplx(20.37, 0.01)}, 1, false},
        {{hbk_cplx(20.31, 0.13), hbk_cplx(20.72, 0.21)}, 2, true},
        {{hbk_cplx(20.31, 1.33), hbk_cplx(20.72, 1.71)}, 2, false},
        {{hbk_cplx(20.31, 0.13), hbk_cplx(24.72, 0.21)}, 2, false},
    };
    for (size_t c = 0; c < sizeof(cases) / sizeof(cases[0]); c++) {
        double re[N];
        double im[N];
        sample(cases[c].n, cases[c].zero, 0.1, re, im);
        assert_true(hbk_phase_may_be_two(re + 20, im + 20) == cases[c].two);
    }
}

static void differences_are_of_the_sixth_order(void **state)
{
    (void)state;
    double y[7];
    for (int i = -3; i <= 3; i++) {
        const double x = i + 0.217;
        y[i + 3] = pow(x, 6.0) - (2.3 * pow(x, 3.0)) + x;
    }
    const double x = 0.217;
    check_rel(hbk_phase_difference(y + 3),
              (6.0 * pow(x, 5.0)) - (6.9 * x * x) + 1.0, 1e-11);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quadrants_go_round),
        cmocka_unit_test(the_place_in_a_quarter_follows_the_angle),
        cmocka_unit_test(every_zero_that_is_passed_counts_half_a_turn),
        cmocka_unit_test(two_zeros_in_one_interval_count_twice),
        cmocka_unit_test(zeros_that_are_seen_need_not_be_looked_for),
        cmocka_unit_test(two_zeros_are_told_from_one),
        cmocka_unit_test(differences_are_of_the_sixth_order),
    };
    return cmocka_run_group_tests_name("turns", tests, NULL, NULL);
}
