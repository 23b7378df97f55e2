#include "support/check.h"

#include "acoustics/response.h"

static struct hbk_maximum at(double hz, double height, double q)
{
    return (struct hbk_maximum){.hz = hz, .height = height, .q = q};
}

static void a_lone_ordinary_maximum_is_its_level(void **state)
{
    (void)state;
    struct hbk_maximum maxima[] = {at(471.3, 7.3e7, 30.0)};
    hbk_response_rate(1, maxima, 800.0, 3.1e6);
    check_abs(maxima[0].response_db, 20.0 * log10(7.3e7 / 3.1e6), 1e-9);
}

static void a_blunt_maximum_speaks_less(void **state)
{
    (void)state;
    struct hbk_maximum maxima[] = {at(471.3, 7.3e7, 15.0)};
    hbk_response_rate(1, maxima, 800.0, 3.1e6);
    check_abs(maxima[0].response_db,
              20.0 * log10(7.3e7 / 3.1e6 * pow(0.5, 0.25)), 1e-9);
}

static void a_neighbour_a_semitone_away_costs_three_decibels(void **state)
{
    (void)state;
    struct hbk_maximum maxima[] = {at(400.0, 5e7, 30.0),
                                   at(400.0 * 1.0594631, 5e7, 30.0)};
    hbk_response_rate(2, maxima, 500.0, 3.1e6);
    const double alone = 20.0 * log10(5e7 / 3.1e6);
    check_abs(maxima[0].response_db, alone - 3.01, 0.02);
    check_abs(maxima[1].response_db, alone - 3.01, 0.02);
    maxima[1].hz = 400.0 * 1.3348399;
    hbk_response_rate(2, maxima, 600.0, 3.1e6);
    check_abs(maxima[0].response_db, alone - 0.17, 0.03);
}

/* Benade and Gans 1968 (from memory): multiples on resonances help. */
static void multiples_that_meet_resonances_help(void **state)
{
    (void)state;
    struct hbk_maximum in_line[] = {at(200.0, 5e7, 30.0), at(400.0, 4e7, 40.0),
                                    at(600.0, 3e7, 50.0)};
    struct hbk_maximum astray[] = {at(200.0, 5e7, 30.0), at(430.0, 4e7, 40.0),
                                   at(660.0, 3e7, 50.0)};
    hbk_response_rate(3, in_line, 700.0, 3e6);
    hbk_response_rate(3, astray, 700.0, 3e6);
    assert_true(in_line[0].response_db > astray[0].response_db + 2.0);
    /* The sum itself: 5 + 4/2 + 3/3 in the same units. */
    const double crowd = 1.0 + pow(0.8 * 100.0 / (2400.0 / log(2.0) / 3.0), 2);
    check_abs(in_line[0].response_db,
              20.0 * log10(8e7 / 3e6) - 10.0 * log10(crowd), 1e-6);
}

static void infinite_maxima_stay_finite(void **state)
{
    (void)state;
    struct hbk_maximum maxima[] = {at(200.0, 1e300, 1e9), at(400.0, 1e-9, 0.1)};
    hbk_response_rate(2, maxima, 700.0, 3e6);
    check_abs(maxima[0].response_db, 200.0, 0.0);
    check_abs(maxima[1].response_db, -200.0, 0.0);
    hbk_response_rate(0, maxima, 700.0, 3e6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_lone_ordinary_maximum_is_its_level),
        cmocka_unit_test(a_blunt_maximum_speaks_less),
        cmocka_unit_test(a_neighbour_a_semitone_away_costs_three_decibels),
        cmocka_unit_test(multiples_that_meet_resonances_help),
        cmocka_unit_test(infinite_maxima_stay_finite),
    };
    return cmocka_run_group_tests_name("response", tests, NULL, NULL);
}
