#include "support/check.h"
#include "support/lane.h"

#include "acoustics/hole.h"
#include "acoustics/radiation.h"

#include "base/cplx.h"

static const double PI = 3.14159265358979323846;

static struct hbk_band band_of(struct hbk_air *air)
{
    assert_int_equal(hbk_air_at(20.7, air), HBK_OK);
    double hz[HBK_LANES];
    for (size_t i = 0; i < HBK_LANES; i++) {
        hz[i] = 31.7 + (83.9 * (double)i);
    }
    struct hbk_band band;
    hbk_band_set(&band, air, HBK_LANES, hz);
    return band;
}

static const struct hbk_side_hole HOLES[] = {
    {.radius_m = 0.0071, .chimney_m = 0.0093, .rim = HBK_RIM_WIDE},
    {.radius_m = 0.0103, .chimney_m = 0.0021, .rim = HBK_RIM_AUTO},
    {.radius_m = 0.0083, .chimney_m = 0.0131, .rim = HBK_RIM_AUTO},
    {.radius_m = 0.0117,
     .chimney_m = 0.0047,
     .wall_m = 0.0008,
     .pad_radius_m = 0.0143,
     .pad_lift_m = 0.0061,
     .rim = HBK_RIM_THIN},
    {.radius_m = 0.0019, .chimney_m = 0.0, .rim = HBK_RIM_CYLINDER},
};
enum { N_HOLES = sizeof(HOLES) / sizeof(HOLES[0]) };
#define BORE_M 0.0127

static void the_determinant_is_one(void **state)
{
    (void)state;
    struct hbk_air air;
    const struct hbk_band band = band_of(&air);
    for (size_t h = 0; h < N_HOLES; h++) {
        for (int open = 0; open < 2; open++) {
            struct hbk_twoport port;
            hbk_hole_twoport(&band, &HOLES[h], BORE_M, open != 0, &port);
            for (size_t i = 0; i < HBK_LANES; i++) {
                const struct hbk_abcd m = lane_of(&port, i);
                check_abs(cabs((m.a * m.d) - (m.b * m.c) - 1.0), 0.0, 1e-13);
            }
        }
    }
}

static void energy_is_never_created(void **state)
{
    (void)state;
    struct hbk_air air;
    const struct hbk_band band = band_of(&air);
    for (size_t h = 0; h < N_HOLES; h++) {
        for (int open = 0; open < 2; open++) {
            struct hbk_twoport port;
            hbk_hole_twoport(&band, &HOLES[h], BORE_M, open != 0, &port);
            for (size_t i = 0; i < HBK_LANES; i++) {
                const struct hbk_abcd m = lane_of(&port, i);
                const double complex load = hbk_cplx(2.7e3, -3.1e5);
                const double in =
                    creal(((m.a * load) + m.b) * conj((m.c * load) + m.d));
                assert_true(in > creal(load));
            }
        }
    }
}

/*
 * A shut hole is a little volume: at low frequency its shunt admittance is
 * that of chimney and matching volume, less wall losses; with the volume
 * it vanishes.
 */
static void a_shut_hole_is_its_volume(void **state)
{
    (void)state;
    struct hbk_air air;
    struct hbk_band band = band_of(&air);
    air.lossless = true;
    const struct hbk_side_hole hole = HOLES[2];
    struct hbk_twoport port;
    hbk_hole_twoport(&band, &hole, BORE_M, false, &port);
    const double length =
        hole.chimney_m + hbk_hole_matching_length(hole.radius_m, BORE_M);
    const double volume = PI * hole.radius_m * hole.radius_m * length;
    check_rel(port.ci[0],
              band.omega[0] * volume / (air.density * air.speed * air.speed),
              1e-4);
    const struct hbk_side_hole none = {.radius_m = 0.0083, .plain = true};
    hbk_hole_twoport(&band, &none, BORE_M, false, &port);
    for (size_t i = 0; i < HBK_LANES; i++) {
        const struct hbk_abcd m = lane_of(&port, i);
        check_abs(cabs(m.a - 1.0) + cabs(m.b) + cabs(m.c) + cabs(m.d - 1.0),
                  0.0, 0.0);
    }
}

/*
 * Lefebvre and Scavone 2012, their equation 31 as others quote it, worked out
 * by hand: 0.822 - 0.095 d - 1.566 d^2 + 2.138 d^3 - 1.640 d^4 + 0.502 d^5.
 */
static void the_inner_length_is_as_published(void **state)
{
    (void)state;
    static const double want[] = {0.82200, 0.75500, 0.63343,
                                  0.48954, 0.33117, 0.16100};
    /*
     * Nederveen, Jansen and van Hassel 1998 give 0.82 falling to 0.16; from
     * memory 0.82 - 1.4 d^2 + 0.75 d^2.7 between.
     */
    static const double nederveen[] = {0.8200, 0.7737, 0.6592,
                                       0.5048, 0.3346, 0.1700};
    for (size_t i = 0; i < 6; i++) {
        const double got = hbk_hole_inner_length(0.2 * (double)i);
        check_abs(got, want[i], 5.1e-6);
        check_abs(got, nederveen[i], 0.026);
    }
}

/*
 * Dubos et al. 1999 (as others quote it) is another set, which is not built.
 * Ours is near it but for holes nearly as wide as the bore, where their fit of
 * the fourth degree falls below what Nederveen, Jansen and van Hassel 1998
 * found, 0.16, which ours meets.
 */
static void another_published_set_lies_as_far_off_as_is_stated(void **state)
{
    (void)state;
    static const double dubos[] = {0.8200, 0.7468, 0.6315,
                                   0.4941, 0.3274, 0.0970};
    for (size_t i = 0; i < 6; i++) {
        const double d = 0.2 * (double)i;
        check_abs(0.82 +
                      (d * (-0.193 + (d * (-1.09 + (d * (1.27 - 0.71 * d)))))),
                  dubos[i], 5.1e-5);
        const double ours = hbk_hole_inner_length(d);
        if (i < 5) {
            check_abs(ours, dubos[i], 0.009);
        } else {
            check_abs(ours - dubos[i], 0.064, 0.001);
            check_abs(ours, 0.16, 0.002);
        }
    }
    /* Shut, of a long chimney: 1/(1.78 + 0.94 + 0.54 d + 0.285 d^2). */
    check_abs(-1.0 / (1.78 + 0.94), -0.368, 5e-4);
    check_abs(hbk_hole_series_length(20.0, false), -1.0 / (1.78 + 0.94), 0.08);
    check_abs(hbk_hole_series_length(20.0, false),
              -1.0 / (1.78 + 0.94 + (0.54 * 0.8) + (0.285 * 0.64)), 0.01);
}

/* Nederveen, Jansen and van Hassel 1998: -0.28 b delta^2. */
static void the_series_length_is_as_published(void **state)
{
    (void)state;
    check_abs(hbk_hole_series_length(20.0, false), -0.29, 1e-9);
    check_abs(hbk_hole_series_length(20.0, false), -0.28, 0.015);
    check_abs(hbk_hole_series_length(20.0, true), -0.29, 1e-9);
    check_abs(hbk_hole_series_length(0.0, true), -0.35, 1e-12);
    check_abs(hbk_hole_series_length(0.0, false), -0.12, 1e-12);
    /*
     * A chimney of 0.3 radii, worked out by hand from 0.35 - 0.06 tanh(2.7 t/b)
     * and 0.12 + 0.17 tanh(2.4 t/b), Lefebvre and Scavone 2012 as others quote
     * them.
     */
    check_abs(hbk_hole_series_length(0.3, true), -0.309825, 1e-6);
    check_abs(hbk_hole_series_length(0.3, false), -0.224875, 1e-6);
}

/*
 * The volume between the bore's wall and the plane it is cut by, exactly: the
 * mean of a - sqrt(a^2 - y^2) over the hole's disc, 1 - 8/(3 pi) for a hole as
 * wide as the bore. Nederveen's formula (from memory) meets it within eight
 * thousandths, there within two.
 */
static void the_matching_volume_is_that_of_the_geometry(void **state)
{
    (void)state;
    for (double delta = 0.3; delta < 1.01; delta += 0.1) {
        enum { STRIPS = 4000 };
        double volume = 0.0;
        for (int i = 0; i < STRIPS; i++) {
            const double y = delta * ((2.0 * (i + 0.5) / STRIPS) - 1.0);
            volume += 2.0 * sqrt((delta * delta) - (y * y)) *
                      (1.0 - sqrt(1.0 - (y * y))) * (2.0 * delta / STRIPS);
        }
        const double want = volume / (PI * delta * delta);
        check_rel(hbk_hole_matching_length(delta, 1.0), want, 0.008);
    }
    check_abs(hbk_hole_matching_length(1.0, 1.0), 1.0 - (8.0 / (3.0 * PI)),
              3.1e-4);
}

/*
 * Dalmont, Nederveen and Joly 2001 (from memory): a collar as wide as the hole
 * (b/(b + w) = 1/2) adds (0.8216 - 0.6127)/2 + 0.057 (1 - 1/32)/2 = 0.1321.
 */
static void a_collar_lengthens_as_published(void **state)
{
    (void)state;
    struct hbk_side_hole hole = {
        .radius_m = 0.007, .chimney_m = 0.0092, .rim = HBK_RIM_THIN};
    const double area = PI * hole.radius_m * hole.radius_m;
    const double bare = hbk_hole_inertance(&hole, 0.01) * area;
    hole.wall_m = hole.radius_m;
    const double collar = hbk_hole_inertance(&hole, 0.01) * area;
    check_abs((collar - bare) / hole.radius_m, 0.13206, 1e-4);
}

/*
 * Keefe writes the series term in units of the hole's own impedance with
 * delta^4, others in units of the bore's with delta^2. Both must come to the
 * same Pa s/m^3: rho/(pi b^2) b delta^4 = rho/(pi a^2) b delta^2.
 */
static void the_series_term_is_in_units_of_the_bore(void **state)
{
    (void)state;
    struct hbk_air air;
    const struct hbk_band band = band_of(&air);
    const struct hbk_side_hole hole = HOLES[0];
    struct hbk_twoport port;
    hbk_hole_twoport(&band, &hole, BORE_M, false, &port);
    const double b = hole.radius_m;
    const double delta4 = pow(b / BORE_M, 4.0);
    const double want = band.omega[0] * air.density / (PI * b * b) * b *
                        delta4 *
                        hbk_hole_series_length(hole.chimney_m / b, false);
    check_rel(port.bi[0], want, 1e-3);
}

/* Dalmont, Nederveen and Joly 2001 (from memory): b=7, r_d=9, w=0.5 mm. */
static void a_pad_lengthens_as_published(void **state)
{
    (void)state;
    static const double lift_mm[] = {2.0, 5.0, 10.0};
    static const double want[] = {0.436, 0.108, 0.023};
    struct hbk_side_hole hole = {.radius_m = 0.007,
                                 .chimney_m = 0.0092,
                                 .wall_m = 0.0005,
                                 .rim = HBK_RIM_WIDE};
    const double area = PI * hole.radius_m * hole.radius_m;
    const double bare = hbk_hole_inertance(&hole, 0.01) * area;
    hole.pad_radius_m = 0.009;
    for (size_t i = 0; i < 3; i++) {
        hole.pad_lift_m = lift_mm[i] / 1000.0;
        const double padded = hbk_hole_inertance(&hole, 0.01) * area;
        check_abs((padded - bare) / hole.radius_m, want[i], 6e-4);
    }
}

/* The open hole at low frequency is the mass hbk_hole_inertance states. */
static void an_open_hole_is_its_mass(void **state)
{
    (void)state;
    struct hbk_air air;
    assert_int_equal(hbk_air_at(20.0, &air), HBK_OK);
    air.lossless = true;
    const double hz = 17.3;
    struct hbk_band band;
    hbk_band_set(&band, &air, 1, &hz);
    for (size_t h = 0; h < N_HOLES; h++) {
        struct hbk_twoport port;
        hbk_hole_twoport(&band, &HOLES[h], BORE_M, true, &port);
        const struct hbk_abcd m = lane_of(&port, 0);
        const double mass = cimag(1.0 / m.c) / (band.omega[0] * air.density);
        check_rel(mass, hbk_hole_inertance(&HOLES[h], BORE_M), 1e-3);
    }
}

/*
 * Dalmont, Nederveen and Joly 2001 (from memory), a hole in the wall of a
 * tube: 0.822 - 0.47 (b/R)^0.8, worked out by hand for b/R = 0.1, 0.3, 0.6, 1.
 */
static void a_hole_in_a_tube_is_as_long_as_published(void **state)
{
    (void)state;
    static const struct {
        double radius_m, chimney_m, want;
    } cases[] = {{0.001, 0.0, 0.7475},
                 {0.0045, 0.005, 0.6426},
                 {0.009, 0.005, 0.5097},
                 {0.010, 0.0, 0.3520}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        const double b = cases[i].radius_m;
        const double bore_m = 0.010;
        const struct hbk_side_hole hole = {.radius_m = b,
                                           .chimney_m = cases[i].chimney_m,
                                           .rim = HBK_RIM_CYLINDER};
        const double whole_m = hbk_hole_inertance(&hole, bore_m) * PI * b * b;
        const double outside_m = whole_m - hole.chimney_m -
                                 hbk_hole_matching_length(b, bore_m) -
                                 (b * hbk_hole_inner_length(b / bore_m));
        check_abs(outside_m / b, cases[i].want, 5.1e-5);
    }
}

/*
 * Another measurement of a hole in the wall of a tube, Benade and Murday 1967
 * (from memory): 0.64 (1 + 0.32 ln(0.30 R/b)), good for holes that are neither
 * pinholes nor as wide as the tube. The two differ by 0.017 at most; a wall
 * that counted for a twentieth less would lie outside that.
 */
static void a_hole_in_a_tube_is_as_long_as_was_measured_before(void **state)
{
    (void)state;
    double farthest = 0.0;
    for (int i = 0; i <= 8; i++) {
        const double ratio = 0.3 + (0.05 * i);
        const double bore_m = 0.010;
        const struct hbk_side_hole hole = {.radius_m = ratio * bore_m,
                                           .rim = HBK_RIM_CYLINDER};
        const double b = hole.radius_m;
        const double outside_m =
            (hbk_hole_inertance(&hole, bore_m) * PI * b * b) -
            hbk_hole_matching_length(b, bore_m) -
            (b * hbk_hole_inner_length(ratio));
        const double before = 0.64 * (1.0 + (0.32 * log(0.30 / ratio)));
        farthest = fmax(farthest, fabs((outside_m / b) - before));
    }
    assert_true(farthest < 0.0175);
}

/*
 * How the inner length of an open hole grows with frequency: Lefebvre and
 * Scavone 2012, equation 32 as others quote it, (1 - 4.56 d + 6.55 d^2)
 * (0.17 ka + 0.92 (ka)^2 + 0.16 (ka)^3 - 0.29 (ka)^4), worked out by hand.
 * Read back from the two-port: what is left of the hole's impedance when the
 * chimney and the open end of a lossless hole are taken off. Beyond ka = 1,
 * where the fit ends, it is held.
 */
static void the_inner_length_grows_with_frequency_as_published(void **state)
{
    (void)state;
    static const struct {
        double delta, ka, growth;
    } cases[] = {{0.5, 0.3, 0.048538},
                 {0.7, 0.5, 0.322420},
                 {0.9, 0.8, 1.514491},
                 {0.7, 1.5, 0.976800}};
    struct hbk_air air;
    assert_int_equal(hbk_air_at(20.0, &air), HBK_OK);
    air.lossless = true;
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        const double b = cases[i].delta * BORE_M;
        const struct hbk_side_hole hole = {
            .radius_m = b, .chimney_m = 0.0031, .rim = HBK_RIM_CYLINDER};
        const double k = cases[i].ka / BORE_M;
        const double hz = k * air.speed / (2.0 * PI);
        struct hbk_band band;
        struct hbk_twoport port;
        hbk_band_set(&band, &air, 1, &hz);
        hbk_hole_twoport(&band, &hole, BORE_M, true, &port);
        const double zh = air.density * air.speed / (PI * b * b);
        const double wall = 0.822 - (0.47 * pow(b / (BORE_M + 0.0031), 0.8));
        const double complex end = hbk_cplx(k * b * k * b / 4.0, k * b * wall);
        const double length_m = 0.0031 + hbk_hole_matching_length(b, BORE_M);
        const double turn = tan(k * length_m);
        const double complex chimney =
            (end + hbk_cplx(0.0, turn)) / (1.0 + (hbk_cplx(0.0, turn) * end));
        const double complex inner = (1.0 / lane_of(&port, 0).c / zh) - chimney;
        const double plain = k * b * hbk_hole_inner_length(cases[i].delta);
        check_abs(cimag(inner) / plain, 1.0 + cases[i].growth, 2e-6);
        check_abs(creal(inner), 0.0, 1e-9);
    }
}

/* Common practice: the more wall round the rim, the longer the hole acts. */
static void rims_come_in_order(void **state)
{
    (void)state;
    struct hbk_side_hole hole = {.radius_m = 0.007, .chimney_m = 0.002};
    hole.rim = HBK_RIM_WIDE;
    const double wide = hbk_hole_inertance(&hole, 0.02);
    hole.rim = HBK_RIM_THIN;
    const double thin = hbk_hole_inertance(&hole, 0.02);
    hole.wall_m = 0.004;
    const double collar = hbk_hole_inertance(&hole, 0.02);
    hole.rim = HBK_RIM_CYLINDER;
    const double cylinder = hbk_hole_inertance(&hole, 0.02);
    hole.rim = HBK_RIM_AUTO;
    check_abs(hbk_hole_inertance(&hole, 0.02), cylinder, 0.0);
    hole.chimney_m = 0.0036;
    const double low = hbk_hole_inertance(&hole, 0.02);
    hole.rim = HBK_RIM_THIN;
    check_abs(hbk_hole_inertance(&hole, 0.02), low, 0.0);
    assert_true(thin < collar);
    assert_true(collar < wide);
    assert_true(cylinder < wide);
    assert_true(cylinder > 0.8 * thin);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_determinant_is_one),
        cmocka_unit_test(energy_is_never_created),
        cmocka_unit_test(a_shut_hole_is_its_volume),
        cmocka_unit_test(the_inner_length_is_as_published),
        cmocka_unit_test(another_published_set_lies_as_far_off_as_is_stated),
        cmocka_unit_test(the_series_length_is_as_published),
        cmocka_unit_test(the_matching_volume_is_that_of_the_geometry),
        cmocka_unit_test(a_collar_lengthens_as_published),
        cmocka_unit_test(the_series_term_is_in_units_of_the_bore),
        cmocka_unit_test(a_pad_lengthens_as_published),
        cmocka_unit_test(an_open_hole_is_its_mass),
        cmocka_unit_test(a_hole_in_a_tube_is_as_long_as_published),
        cmocka_unit_test(a_hole_in_a_tube_is_as_long_as_was_measured_before),
        cmocka_unit_test(the_inner_length_grows_with_frequency_as_published),
        cmocka_unit_test(rims_come_in_order),
    };
    return cmocka_run_group_tests_name("hole", tests, NULL, NULL);
}
