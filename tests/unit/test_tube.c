#include "support/air.h"
#include "support/check.h"
#include "support/lane.h"

#include "acoustics/losses.h"
#include "acoustics/tube.h"

#include "base/cplx.h"

#define TOL_ROUNDING 2e-13

static const double PI = 3.14159265358979323846;

static struct hbk_band band_of(const struct hbk_air *air)
{
    double hz[HBK_LANES];
    for (size_t i = 0; i < HBK_LANES; i++) {
        hz[i] = 23.17 + (91.3 * (double)i);
    }
    struct hbk_band band;
    hbk_band_set(&band, air, HBK_LANES, hz);
    return band;
}

static const struct hbk_tube SHAPES[] = {
    {0.6173, 0.00742, 0.00742}, {0.4117, 0.0061, 0.0293},
    {0.2391, 0.0371, 0.00913},  {0.0523, 0.0337, 0.0779},
    {0.00077, 0.0031, 0.0032},
};
enum { N_SHAPES = sizeof(SHAPES) / sizeof(SHAPES[0]) };

static void check_same(const struct hbk_twoport *got,
                       const struct hbk_twoport *want, double tol)
{
    for (size_t i = 0; i < HBK_LANES; i++) {
        const struct hbk_abcd g = lane_of(got, i);
        const struct hbk_abcd w = lane_of(want, i);
        check_abs(cabs(g.a - w.a), 0.0, tol * (1.0 + cabs(w.a)));
        check_abs(cabs(g.b - w.b), 0.0, tol * (1e6 + cabs(w.b)));
        check_abs(cabs(g.c - w.c), 0.0, tol * (1e-6 + cabs(w.c)));
        check_abs(cabs(g.d - w.d), 0.0, tol * (1.0 + cabs(w.d)));
    }
}

static void the_determinant_is_one(void **state)
{
    (void)state;
    for (int lossless = 0; lossless < 2; lossless++) {
        const struct hbk_air air = air_at(21.3, lossless != 0);
        const struct hbk_band band = band_of(&air);
        for (size_t s = 0; s < N_SHAPES; s++) {
            for (int plane = 0; plane < 2; plane++) {
                struct hbk_twoport port;
                hbk_tube_twoport(
                    &band, &SHAPES[s],
                    plane ? HBK_FRONTS_PLANE : HBK_FRONTS_SPHERICAL, &port);
                for (size_t i = 0; i < HBK_LANES; i++) {
                    const struct hbk_abcd m = lane_of(&port, i);
                    const double size = cabs(m.a * m.d) + cabs(m.b * m.c) + 1.0;
                    check_abs(cabs((m.a * m.d) - (m.b * m.c) - 1.0), 0.0,
                              1e-13 * size);
                }
            }
        }
    }
}

/* Reciprocity: a tube turned round exchanges a and d, and keeps b and c. */
static void a_tube_turned_round_exchanges_a_and_d(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(19.1, true);
    const struct hbk_band band = band_of(&air);
    for (size_t s = 0; s < N_SHAPES; s++) {
        const struct hbk_tube back = {SHAPES[s].length_m, SHAPES[s].far_m,
                                      SHAPES[s].near_m};
        struct hbk_twoport one;
        struct hbk_twoport other;
        hbk_tube_twoport(&band, &SHAPES[s], HBK_FRONTS_SPHERICAL, &one);
        hbk_tube_twoport(&band, &back, HBK_FRONTS_SPHERICAL, &other);
        for (size_t i = 0; i < HBK_LANES; i++) {
            const double d_re = other.dr[i];
            const double d_im = other.di[i];
            other.dr[i] = other.ar[i];
            other.di[i] = other.ai[i];
            other.ar[i] = d_re;
            other.ai[i] = d_im;
        }
        check_same(&one, &other, TOL_ROUNDING);
    }
}

static void two_parts_make_the_whole(void **state)
{
    (void)state;
    for (int lossless = 0; lossless < 2; lossless++) {
        const struct hbk_air air = air_at(22.9, lossless != 0);
        const struct hbk_band band = band_of(&air);
        for (size_t s = 0; s < N_SHAPES; s++) {
            const struct hbk_tube whole = SHAPES[s];
            const double share = 0.3719;
            const double cut =
                whole.near_m + (share * (whole.far_m - whole.near_m));
            const struct hbk_tube near = {share * whole.length_m, whole.near_m,
                                          cut};
            const struct hbk_tube far = {(1.0 - share) * whole.length_m, cut,
                                         whole.far_m};
            struct hbk_twoport one;
            struct hbk_twoport two;
            struct hbk_twoport both;
            hbk_tube_twoport(&band, &near, HBK_FRONTS_SPHERICAL, &one);
            hbk_tube_twoport(&band, &far, HBK_FRONTS_SPHERICAL, &two);
            hbk_twoport_chain(&one, &two, &both);
            hbk_tube_twoport(&band, &whole, HBK_FRONTS_SPHERICAL, &one);
            /* With losses other slices are cut: their error, not rounding. */
            check_same(&both, &one, lossless != 0 ? TOL_ROUNDING : 1e-5);
        }
    }
}

/* cosh and sinh of the propagation constant, straight from the library. */
static void a_cylinder_is_hyperbolic(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, false);
    const struct hbk_band band = band_of(&air);
    const double lengths[] = {0.00731, 0.0917, 0.6173, 2.417};
    const double radius = 0.00587;
    struct hbk_line line;
    hbk_losses_line(&band, radius, &line);
    for (size_t n = 0; n < 4; n++) {
        const struct hbk_tube tube = {lengths[n], radius, radius};
        struct hbk_twoport want;
        struct hbk_twoport got;
        hbk_tube_twoport(&band, &tube, HBK_FRONTS_PLANE, &got);
        for (size_t i = 0; i < HBK_LANES; i++) {
            const double complex z = hbk_cplx(line.zr[i], line.zi[i]);
            const double complex y = hbk_cplx(line.yr[i], line.yi[i]);
            const double complex path = csqrt(z * y) * lengths[n];
            const double complex zc = csqrt(z / y) / (PI * radius * radius);
            hbk_twoport_set_lane(
                &want, i,
                (struct hbk_abcd){ccosh(path), zc * csinh(path),
                                  csinh(path) / zc, ccosh(path)});
        }
        check_same(&got, &want, 1e-12);
    }
}

static void a_cone_passes_smoothly_into_a_cylinder(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, false);
    const struct hbk_band band = band_of(&air);
    const struct hbk_tube straight = {0.4173, 0.00871, 0.00871};
    const struct hbk_tube nearly = {0.4173, 0.00871, 0.00871 + 2e-12};
    struct hbk_twoport want;
    struct hbk_twoport got;
    hbk_tube_twoport(&band, &straight, HBK_FRONTS_PLANE, &want);
    hbk_tube_twoport(&band, &nearly, HBK_FRONTS_PLANE, &got);
    check_same(&got, &want, 1e-8);
}

/* The resistance in front of a passive end must stay positive. */
static void energy_is_never_created(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(24.1, false);
    const struct hbk_band band = band_of(&air);
    const double complex loads[] = {hbk_cplx(0.0, 0.0), hbk_cplx(3e5, -7e6),
                                    hbk_cplx(1e3, 2e4), hbk_cplx(4e7, 0.0)};
    for (size_t s = 0; s < N_SHAPES; s++) {
        struct hbk_twoport port;
        hbk_tube_twoport(&band, &SHAPES[s], HBK_FRONTS_SPHERICAL, &port);
        for (size_t n = 0; n < 4; n++) {
            for (size_t i = 0; i < HBK_LANES; i++) {
                const struct hbk_abcd m = lane_of(&port, i);
                const double complex p = (m.a * loads[n]) + m.b;
                const double complex u = (m.c * loads[n]) + m.d;
                const double in = creal(p * conj(u));
                assert_true(in > creal(loads[n]));
            }
        }
    }
}

static void no_length_is_no_tube(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, false);
    const struct hbk_band band = band_of(&air);
    const struct hbk_tube tube = {0.0, 0.0071, 0.0093};
    struct hbk_twoport got;
    struct hbk_twoport want;
    hbk_tube_twoport(&band, &tube, HBK_FRONTS_SPHERICAL, &got);
    hbk_twoport_identity(&want);
    check_same(&got, &want, 0.0);
}

/* Karal 1953 (from memory): a jump into a great space adds 0.82 a. */
static void a_great_step_is_worth_the_flanged_end(void **state)
{
    (void)state;
    check_rel(hbk_tube_step_length(0.0071, 0.71), 0.82 * 0.0071, 0.02);
    check_abs(hbk_tube_step_length(0.0071, 0.0088), 0.0, 1e-4);
    check_abs(hbk_tube_step_length(0.0071, 0.0071), 0.0, 0.0);
    check_abs(hbk_tube_step_length(0.0071, 0.0353),
              hbk_tube_step_length(0.0353, 0.0071), 0.0);
    const struct hbk_air air = air_at(20.0, false);
    const struct hbk_band band = band_of(&air);
    struct hbk_twoport step;
    hbk_tube_step(&band, 0.0353, 0.0071, &step);
    const double mass = air.density * hbk_tube_step_length(0.0071, 0.0353) /
                        (PI * 0.0071 * 0.0071);
    check_rel(step.bi[3], band.omega[3] * mass, 1e-12);
    check_abs(step.ar[3], 1.0, 0.0);
    check_abs(step.ci[3], 0.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_determinant_is_one),
        cmocka_unit_test(a_tube_turned_round_exchanges_a_and_d),
        cmocka_unit_test(two_parts_make_the_whole),
        cmocka_unit_test(energy_is_never_created),
        cmocka_unit_test(a_cylinder_is_hyperbolic),
        cmocka_unit_test(a_cone_passes_smoothly_into_a_cylinder),
        cmocka_unit_test(no_length_is_no_tube),
        cmocka_unit_test(a_great_step_is_worth_the_flanged_end),
    };
    return cmocka_run_group_tests_name("tube", tests, NULL, NULL);
}
