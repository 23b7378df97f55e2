#include "support/check.h"

#include "acoustics/slopes.h"

#include "base/cplx.h"

enum { N = 41 };

struct sampled {
    double pr[N], pi[N], ur[N], ui[N];
    double rise[N], bend[N], u2[N], zero[N];
};

/* Pressure and flow with one zero each, on a wave of 14 points a turn. */
static double complex pressure(double t)
{
    return (t - hbk_cplx(17.81, 0.37)) * cexp(hbk_cplx(0.01, 0.4488) * t);
}

static double complex flow(double t)
{
    return (t - hbk_cplx(22.37, 0.23)) * cexp(hbk_cplx(0.0, 0.1) * t);
}

static void sample(double complex (*p)(double), double complex (*u)(double),
                   struct sampled *sampled)
{
    for (size_t i = 0; i < N; i++) {
        const double complex p_here = p((double)i);
        const double complex u_here = u((double)i);
        sampled->pr[i] = creal(p_here);
        sampled->pi[i] = cimag(p_here);
        sampled->ur[i] = creal(u_here);
        sampled->ui[i] = cimag(u_here);
        sampled->rise[i] = NAN;
    }
    const struct hbk_slopes_of of = {
        N, {sampled->pr, sampled->pi, sampled->ur, sampled->ui}};
    const struct hbk_slopes slopes = {.rise = sampled->rise,
                                      .bend = sampled->bend,
                                      .u2 = sampled->u2,
                                      .zero = sampled->zero};
    hbk_slopes_set(&of, &slopes);
}

/* |w|^2 and its first two derivatives, by differences of a closed form. */
static void squares(double complex (*w)(double), double t, double out[3])
{
    const double h = 1e-3;
    double y[3];
    for (int k = -1; k <= 1; k++) {
        const double size = cabs(w(t + (h * k)));
        y[k + 1] = size * size;
    }
    out[0] = y[1];
    out[1] = (y[2] - y[0]) / (2.0 * h);
    out[2] = (y[2] - (2.0 * y[1]) + y[0]) / (h * h);
}

static void slope_and_bend_are_the_derivatives(void **state)
{
    (void)state;
    static struct sampled sampled;
    sample(pressure, flow, &sampled);
    for (size_t i = 3; i + 3 < N; i++) {
        double p[3];
        double u[3];
        squares(pressure, (double)i, p);
        squares(flow, (double)i, u);
        const double scale = p[0] * u[0];
        check_abs(sampled.rise[i], 0.5 * ((p[1] * u[0]) - (p[0] * u[1])),
                  1e-3 * scale);
        check_abs(sampled.bend[i], 0.5 * ((p[2] * u[0]) - (p[0] * u[2])),
                  4e-3 * scale);
        check_rel(sampled.u2[i], u[0], 1e-12);
    }
    assert_true(isnan(sampled.rise[2]) && isnan(sampled.rise[N - 3]));
}

static double complex one_zero(double t)
{
    return t - hbk_cplx(22.37, 0.23);
}

/* -U/U' is the distance of a single zero, on both sides of it. */
static void a_grid_point_sees_the_nearest_zero(void **state)
{
    (void)state;
    static struct sampled sampled;
    sample(pressure, one_zero, &sampled);
    for (size_t i = 3; i + 3 < N; i++) {
        const double along = 22.37 - (double)i;
        check_abs(sampled.zero[i],
                  fabs(along) < 1.0 ? along : HBK_SLOPES_UNSEEN, 1e-12);
    }
}

static double complex far_zero(double t)
{
    return t - hbk_cplx(22.37, 0.71);
}

static void a_zero_far_from_the_axis_is_not_seen(void **state)
{
    (void)state;
    static struct sampled sampled;
    sample(pressure, far_zero, &sampled);
    for (size_t i = 3; i + 3 < N; i++) {
        check_abs(sampled.zero[i], HBK_SLOPES_UNSEEN, 0.0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slope_and_bend_are_the_derivatives),
        cmocka_unit_test(a_grid_point_sees_the_nearest_zero),
        cmocka_unit_test(a_zero_far_from_the_axis_is_not_seen),
    };
    return cmocka_run_group_tests_name("slopes", tests, NULL, NULL);
}
