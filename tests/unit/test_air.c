#include "support/check.h"

#include "acoustics/air.h"

/*
 * Keefe 1984 (constants from memory of the publication); the figures below
 * are his formulas worked out by hand to the digits shown.
 */
static void keefe_constants_at_three_temperatures(void **state)
{
    (void)state;
    static const struct {
        double celsius, speed, density, viscosity, gamma, root_prandtl;
    } cases[] = {
        {20.0, 343.2816, 1.20391, 1.81439e-5, 1.40189, 0.84215},
        {26.85, 347.2300, 1.17690, 1.84600e-5, 1.40170, 0.84100},
        {27.0, 347.3165, 1.17631, 1.84669e-5, 1.40170, 0.84097},
    };
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct hbk_air air;
        assert_int_equal(hbk_air_at(cases[i].celsius, &air), HBK_OK);
        check_abs(air.speed, cases[i].speed, 5e-5);
        check_abs(air.density, cases[i].density, 5e-6);
        check_abs(air.viscosity, cases[i].viscosity, 5e-11);
        check_abs(air.gamma, cases[i].gamma, 5e-6);
        check_abs(air.root_prandtl, cases[i].root_prandtl, 1e-5);
        assert_false(air.lossless);
    }
}

/*
 * McQuillan, Culham and Yovanovich 1984, Properties of dry air at one
 * atmosphere (University of Waterloo): correlations that are an independent
 * set, evaluated here at 300 K.
 */
static void agrees_with_an_independent_set_of_correlations(void **state)
{
    (void)state;
    const double kelvin = 300.0;
    const double density = (351.99 / kelvin) + (344.84 / (kelvin * kelvin));
    const double viscosity = 1.4592e-6 * pow(kelvin, 1.5) / (109.10 + kelvin);
    const double heat = 2.3340e-3 * pow(kelvin, 1.5) / (164.54 + kelvin);
    const double capacity =
        1030.5 - (0.19975 * kelvin) + (3.9734e-4 * kelvin * kelvin);
    struct hbk_air air;
    assert_int_equal(hbk_air_at(kelvin - 273.15, &air), HBK_OK);
    check_rel(air.density, density, 0.0005);
    check_rel(air.viscosity, viscosity, 0.005);
    check_rel(air.root_prandtl, sqrt(viscosity * capacity / heat), 0.006);
}

/* Cramer 1993, dry air with 400 ppm carbon dioxide: 331.448 m/s at 0 C. */
static void the_wide_law_holds_at_freezing(void **state)
{
    (void)state;
    struct hbk_air air;
    assert_int_equal(hbk_air_at(0.0, &air), HBK_OK);
    check_abs(1200.0 * log2(air.speed / 331.448), 0.0, 0.35);
    /* Common tables of dry air at 0 C: 1.293 kg/m^3, 17.2e-6 Pa s. */
    check_rel(air.density, 1.293, 0.003);
    check_rel(air.viscosity, 17.2e-6, 0.01);
}

static void nothing_jumps_where_the_laws_meet(void **state)
{
    (void)state;
    static const double seams[] = {17.0, 37.0};
    for (size_t i = 0; i < 2; i++) {
        struct hbk_air below;
        struct hbk_air above;
        assert_int_equal(hbk_air_at(seams[i] - 1e-7, &below), HBK_OK);
        assert_int_equal(hbk_air_at(seams[i] + 1e-7, &above), HBK_OK);
        check_rel(above.speed, below.speed, 1e-9);
        check_rel(above.density, below.density, 1e-8);
        check_rel(above.viscosity, below.viscosity, 1e-8);
        check_rel(above.gamma, below.gamma, 1e-9);
        check_rel(above.root_prandtl, below.root_prandtl, 1e-9);
    }
}

static void each_temperature_has_its_law(void **state)
{
    (void)state;
    assert_int_equal(hbk_air_law_at(17.0), HBK_AIR_KEEFE);
    assert_int_equal(hbk_air_law_at(37.0), HBK_AIR_KEEFE);
    assert_int_equal(hbk_air_law_at(16.9), HBK_AIR_WIDE);
    assert_int_equal(hbk_air_law_at(37.1), HBK_AIR_WIDE);
}

static void impossible_temperatures_leave_the_air_alone(void **state)
{
    (void)state;
    static const double cases[] = {-40.1, 60.1, 1e9, -INFINITY, INFINITY, NAN};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct hbk_air air = {.speed = 17.25, .lossless = true};
        assert_int_equal(hbk_air_at(cases[i], &air), HBK_ERR_DOMAIN);
        check_abs(air.speed, 17.25, 0.0);
        assert_true(air.lossless);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(keefe_constants_at_three_temperatures),
        cmocka_unit_test(agrees_with_an_independent_set_of_correlations),
        cmocka_unit_test(the_wide_law_holds_at_freezing),
        cmocka_unit_test(nothing_jumps_where_the_laws_meet),
        cmocka_unit_test(each_temperature_has_its_law),
        cmocka_unit_test(impossible_temperatures_leave_the_air_alone),
    };
    return cmocka_run_group_tests_name("air", tests, NULL, NULL);
}
