#include "support/tubes.h"

#include "acoustics/profile.h"

/* Cups: as a volume, and as stations of the bore. */

static double first_maximum(const struct hbk_chain *chain, double limit_hz)
{
    const struct hbk_air air = air_at(20.0, false);
    double hz[8];
    assert_true(scan_maxima(chain, &air, 0, limit_hz, 0.9, 8, hz) >= 1);
    return hz[0];
}

/* A mouthpiece as a profile is one as volume, throat and backbore nearly. */
static void cup_as_volume_and_as_stations_agree_at_low_notes(void **state)
{
    (void)state;
    struct hbk_arena arena = {NULL};
    /* A cylindrical cup of 1.5 cm^3: r 8 mm, 7.46 mm deep. */
    const double depth = 1.5e-6 / (3.14159265358979 * 0.008 * 0.008);
    const struct hbk_profile_point points[] = {
        {0.0, 0.008},           {depth, 0.008},        {depth, 0.0019},
        {depth + 0.02, 0.0019}, {depth + 0.02, 0.006}, {depth + 2.02, 0.006}};
    struct hbk_chain stations = plane_chain(&arena, HBK_BELL_UNFLANGED);
    hbk_chain_add_profile(&stations, 6, points);
    const struct hbk_chain lumped = cylinder_cup(&arena);
    check_abs(cents_between(first_maximum(&stations, 60.0),
                            first_maximum(&lumped, 60.0)),
              0.0, 0.3);
    hbk_arena_finish(&arena);
}

/* Of a cone cut off, by any textbook. */
static double frustum_m3(const struct hbk_profile_point *a,
                         const struct hbk_profile_point *b)
{
    return 3.14159265358979 / 3.0 * (b->x_m - a->x_m) *
           ((a->radius_m * a->radius_m) + (a->radius_m * b->radius_m) +
            (b->radius_m * b->radius_m));
}

static double bowl_m3(void)
{
    double volume = 0.0;
    for (size_t i = 0; i < BOWL_THROAT; i++) {
        const struct hbk_profile_point a = bowl_point(i);
        const struct hbk_profile_point b = bowl_point(i + 1);
        volume += frustum_m3(&a, &b);
    }
    return volume;
}

/* Slant length times caps would make it a sixth larger. */
static void a_cup_like_a_bowl_acts_by_its_volume(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, true);
    struct hbk_arena arena = {NULL};
    struct hbk_chain chain = trumpet_bowl(&arena);
    const double bulk = air.density * air.speed * air.speed;
    const double hz = 23.7;
    struct hbk_band band;
    hbk_band_set(&band, &air, 1, &hz);
    for (int caps = 0; caps < 2; caps++) {
        chain.n_cup = caps == 0 ? chain.n_cup : 0;
        double volume = 0.0;
        for (size_t i = 0; i < BOWL_THROAT; i++) {
            struct hbk_twoport port;
            hbk_chain_element(&chain, i, &band, false, &port);
            volume += port.ci[0] * bulk / band.omega[0];
        }
        if (caps == 0) {
            check_rel(volume, bowl_m3(), 1e-5);
        } else {
            assert_true(volume > 1.16 * bowl_m3());
        }
    }
    hbk_arena_finish(&arena);
}

/*
 * The same trumpet with its cup as a volume. What stays between the two is the
 * depth of the bowl, 12 mm, along which the pressure is not quite the same: 0
 * to 8 cents flat by the reference, and with caps twice that or more.
 */
static void a_bowl_and_its_volume_agree_up_to_the_tenth(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, false);
    struct hbk_arena arena = {NULL};
    struct hbk_chain bowl = trumpet_bowl(&arena);
    struct hbk_chain lumped = {.arena = &arena};
    hbk_chain_add_cup(&lumped, bowl_m3());
    struct hbk_profile_point rest[N_BOWL];
    for (size_t i = BOWL_THROAT; i < N_BOWL; i++) {
        rest[i - BOWL_THROAT] = bowl_point(i);
    }
    hbk_chain_add_profile(&lumped, N_BOWL - BOWL_THROAT, rest);
    hbk_chain_find_cup(&lumped);
    assert_int_equal(lumped.n_cup, 0);
    double want[16];
    double got[16];
    assert_true(scan_maxima(&lumped, &air, 0, 1250.0, 0.9, 16, want) >= 10);
    assert_true(scan_maxima(&bowl, &air, 0, 1250.0, 0.9, 16, got) >= 10);
    bowl.n_cup = 0;
    double caps[16];
    assert_true(scan_maxima(&bowl, &air, 0, 1250.0, 0.9, 16, caps) >= 10);
    for (size_t m = 1; m < 10; m++) {
        const double off = cents_between(got[m], want[m]);
        check_abs(off, 0.0, 10.0);
        assert_true(cents_between(caps[m], want[m]) < 1.8 * off);
    }
    hbk_arena_finish(&arena);
}

/* What narrows a little, as a receiver or a bell section does, is no cup. */
static void only_a_cup_is_taken_for_a_cup(void **state)
{
    (void)state;
    for (size_t c = 0; c < N_TUBE_CASES; c++) {
        struct hbk_arena arena = {NULL};
        struct hbk_chain chain = TUBE_CASES[c].build(&arena);
        hbk_chain_find_cup(&chain);
        assert_int_equal(chain.n_cup,
                         TUBE_CASES[c].build == trumpet_bowl ? BOWL_THROAT : 0);
        hbk_arena_finish(&arena);
    }
    /* As narrow as it takes, and where the reach of a mouthpiece ends. */
    static const struct {
        double length_m, narrow_m;
        size_t want;
    } cases[] = {{0.02, 0.0079, 1},
                 {0.02, 0.0081, 0},
                 {0.0999, 0.004, 1},
                 {0.1001, 0.004, 0}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct hbk_arena arena = {NULL};
        struct hbk_chain chain = {.arena = &arena};
        const double narrow = cases[i].narrow_m;
        hbk_chain_add_tube(&chain,
                           (struct hbk_tube){cases[i].length_m, 0.012, narrow});
        hbk_chain_add_tube(&chain, (struct hbk_tube){0.9, narrow, 0.012});
        hbk_chain_find_cup(&chain);
        assert_int_equal(chain.n_cup, cases[i].want);
        hbk_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cup_as_volume_and_as_stations_agree_at_low_notes),
        cmocka_unit_test(a_cup_like_a_bowl_acts_by_its_volume),
        cmocka_unit_test(a_bowl_and_its_volume_agree_up_to_the_tenth),
        cmocka_unit_test(only_a_cup_is_taken_for_a_cup),
    };
    return cmocka_run_group_tests_name("cup", tests, NULL, NULL);
}
