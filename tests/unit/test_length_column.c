/*
 * The length model against published valve tables and the series of natural
 * harmonics. Horns are built here, so that the numbers of the sources go in
 * as they stand.
 */
#include "support/check.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "solve/column.h"
#include "solve/length_column.h"
#include "solve/solve.h"
#include "solve/tuning.h"

#include <string.h>

/* Valves with loops as shares of a tube of 1.4 m, as a trumpet has. */
static void make_valved(struct hbk_horn *horn, size_t n, const double percent[])
{
    static const char *const names[] = {"1", "2", "3", "4"};
    hbk_horn_init(horn);
    horn->path = "made.yaml";
    horn->id = "made";
    horn->length_m = 1.4;
    for (size_t i = 0; i < n; i++) {
        horn->controls[i] = (struct hbk_control){
            .kind = HBK_VALVE,
            .name = names[i],
            .n_fingers = 1,
            .fingers = {(enum hbk_finger)(HBK_R_INDEX + i)}};
        horn->sites[i] = (struct hbk_site){
            .kind = HBK_LOOP,
            .at_m = (double)NAN,
            .n_terms = 1,
            .terms = {UINT32_C(1) << i},
            .loop = {.measure = HBK_LOOP_SHARE, .value = percent[i] / 100.0}};
    }
    horn->n_controls = n;
    horn->n_sites = n;
}

static double hz_of(const struct hbk_horn *horn, const char *label,
                    unsigned partial)
{
    uint32_t press = 0;
    assert_true(hbk_horn_press_parse(horn, label, &press));
    const struct hbk_rig rig = {.temperature_c = 20.0, .crook = -1};
    struct hbk_peak row[HBK_PEAK_STRIDE];
    struct hbk_faults faults = {0};
    assert_int_equal(hbk_column_peaks(horn, &rig, 1, &press, row, &faults),
                     HBK_OK);
    return row[partial].hz;
}

/* Cents of a press on a partial, from `semitones` below the open partial 2. */
static double deviation(const struct hbk_horn *horn, const char *label,
                        unsigned partial, double semitones)
{
    return hbk_cents(hz_of(horn, label, partial), hz_of(horn, "0", 2)) +
           (100.0 * semitones);
}

struct valve_case {
    const char *label;
    double semitones;
    double cents;
};

static void check_table(const double percent[], size_t n_valves,
                        const struct valve_case *cases, size_t n, double tol)
{
    struct hbk_horn horn;
    make_valved(&horn, n_valves, percent);
    for (size_t i = 0; i < n; i++) {
        check_abs(deviation(&horn, cases[i].label, 2, cases[i].semitones),
                  cases[i].cents, tol);
    }
    hbk_horn_finish(&horn);
}

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

/*
 * A tube of 100 inches and loops of 6, 12.36 and 19.1: "Why the math doesn't
 * add up", JMU Brass Pedagogy, 2016. The page goes down by 6 % of the length a
 * semitone and prints, in inches, by how much two and three loops together
 * fall short of it.
 */
static void the_brass_pedagogy_table(void **state)
{
    (void)state;
    static const double percent[] = {12.36, 6.0, 19.1};
    static const struct {
        const char *label;
        double needed, short_by;
    } cases[] = {{"2", 106.0, 0.0},     {"1", 112.36, 0.0},
                 {"3", 119.1, 0.0},     {"1-2", 119.1, 0.74},
                 {"2-3", 126.25, 1.15}, {"1-3", 133.83, 2.37},
                 {"1-2-3", 141.86, 4.4}};
    struct hbk_horn horn;
    make_valved(&horn, 3, percent);
    for (size_t i = 0; i < COUNT(cases); i++) {
        const double inches =
            100.0 * hz_of(&horn, "0", 2) / hz_of(&horn, cases[i].label, 2);
        check_abs(cases[i].needed - inches, cases[i].short_by, 0.005);
    }
    hbk_horn_finish(&horn);
}

/* Loops exact for their own interval, 2^(n/12) - 1: computed. */
static void exact_single_loops_are_sharp_together(void **state)
{
    (void)state;
    const double percent[] = {
        100.0 * (exp2(2.0 / 12.0) - 1.0), 100.0 * (exp2(1.0 / 12.0) - 1.0),
        100.0 * (exp2(3.0 / 12.0) - 1.0), 100.0 * (exp2(5.0 / 12.0) - 1.0)};
    static const struct valve_case cases[] = {
        {"1", 2, 0.0},        {"2", 1, 0.0},         {"3", 3, 0.0},
        {"4", 5, 0.0},        {"1-2", 3, 10.63},     {"2-3", 4, 15.53},
        {"1-3", 5, 30.32},    {"1-2-3", 6, 53.56},   {"2-4", 6, 24.55},
        {"1-4", 7, 48.04},    {"1-2-4", 8, 78.80},   {"3-4", 8, 70.51},
        {"2-3-4", 9, 104.25}, {"1-3-4", 10, 136.71}, {"1-2-3-4", 11, 175.29}};
    check_table(percent, 4, cases, COUNT(cases), 0.01);
}

/*
 * Loops of 1/8, 1/15 and 1/5: Monzo 2003 (Monk), whole cents as printed; the
 * second figure of each is computed from the fractions.
 */
static void just_ratio_loops(void **state)
{
    (void)state;
    static const double percent[] = {12.5, 100.0 / 15.0, 20.0};
    static const struct {
        const char *label;
        double printed, computed;
    } cases[] = {{"2", -112, -111.73},    {"1", -204, -203.91},
                 {"1-2", -304, -303.58},  {"3", -316, -315.64},
                 {"2-3", -409, -409.24},  {"1-3", -487, -487.19},
                 {"1-2-3", -572, -572.18}};
    struct hbk_horn horn;
    make_valved(&horn, 3, percent);
    for (size_t i = 0; i < COUNT(cases); i++) {
        const double cents = deviation(&horn, cases[i].label, 2, 0.0);
        check_abs(cents, cases[i].printed, 0.5);
        check_abs(cents, cases[i].computed, 0.005);
    }
    hbk_horn_finish(&horn);
}

/*
 * The compromise with a longer third loop: "Tuning Tendencies of Brass
 * Instruments", the table of a trumpet in B flat; the loops are worked back
 * from its figures for the second partial, those for the others stand by
 * themselves.
 */
static void the_compromise_third_loop(void **state)
{
    (void)state;
    static const double percent[] = {12.356, 6.001, 19.998};
    static const struct valve_case second[] = {
        {"0", 0, 0.0},    {"2", 1, -0.9},   {"1", 2, -1.7},    {"1-2", 3, 8.2},
        {"2-3", 4, -0.1}, {"1-3", 5, 14.7}, {"1-2-3", 6, 37.9}};
    check_table(percent, 3, second, COUNT(second), 0.1);
    struct hbk_horn horn;
    make_valved(&horn, 3, percent);
    /*
     * Partials and the semitones they lie above the second. The page adds
     * figures that it has rounded: 37.9 and 1.9 are 39.8, not 39.91.
     */
    static const struct {
        unsigned partial;
        double above;
        struct valve_case rows[7];
    } others[] = {
        {3,
         7,
         {{"0", 0, 1.9},
          {"2", 1, 1.0},
          {"1", 2, 0.2},
          {"1-2", 3, 10.1},
          {"2-3", 4, 1.8},
          {"1-3", 5, 16.6},
          {"1-2-3", 6, 39.8}}},
        {4,
         12,
         {{"0", 0, 0.0},
          {"2", 1, -0.9},
          {"1", 2, -1.7},
          {"1-2", 3, 8.2},
          {"2-3", 4, -0.1}}},
        {5,
         16,
         {{"0", 0, -13.7}, {"2", 1, -14.6}, {"1", 2, -15.4}, {"1-2", 3, -5.5}}},
        {6, 19, {{"0", 0, 1.9}, {"2", 1, 1.0}, {"1", 2, 0.2}}},
        {8,
         24,
         {{"0", 0, 0.0}, {"2", 1, -0.9}, {"1", 2, -1.7}, {"1-2", 3, 8.2}}}};
    for (size_t i = 0; i < COUNT(others); i++) {
        for (size_t k = 0; k < 7 && others[i].rows[k].label != NULL; k++) {
            const struct valve_case *const row = &others[i].rows[k];
            check_abs(deviation(&horn, row->label, others[i].partial,
                                row->semitones - others[i].above),
                      row->cents, 0.11);
        }
    }
    hbk_horn_finish(&horn);
}

/*
 * A teaching page for the trumpet (Trumpet Pedagogy Project, Intonation) has
 * F sharp 15 to 25 cents sharp with 1-2-3, G 10 to 15 with 1-3, G sharp 5 to
 * 10 with 2-3, B flat and B true with 1 and 2, and A 5 to 10 flat with 1-2.
 * The order of the first three is that of the loops. Its A cannot be: loops
 * so long that 1-2 lies 5 cents flat leave 1 alone 11 flat and 2 alone 6,
 * which the page has true. So no figure of the page is held against a horn.
 */
static void a_flat_a_would_want_longer_loops(void **state)
{
    (void)state;
    static const double percent[] = {12.356, 6.001, 19.998};
    struct hbk_horn horn;
    make_valved(&horn, 3, percent);
    const double low_f_sharp = deviation(&horn, "1-2-3", 2, 6);
    const double low_g = deviation(&horn, "1-3", 2, 5);
    assert_true(low_f_sharp > low_g);
    assert_true(low_g > deviation(&horn, "2-3", 2, 4));
    assert_true(deviation(&horn, "1-2", 2, 3) > 5.0);
    double longer = 1.0;
    while (deviation(&horn, "1-2", 2, 3) > -5.0) {
        longer += 0.001;
        for (size_t i = 0; i < 3; i++) {
            horn.sites[i].loop.value = longer * percent[i] / 100.0;
        }
    }
    check_abs(deviation(&horn, "1", 2, 2), -11.0, 0.5);
    check_abs(deviation(&horn, "2", 2, 1), -6.0, 0.5);
    hbk_horn_finish(&horn);
}

/*
 * Lengths of a real trumpet: 140 cm, a semitone 8.3 cm and a tone 17.2 cm
 * more; 1 and 2 together give 25.5 where 26.5 cm are needed (Moore 2016,
 * Acoustics Today).
 */
static void centimeters_of_a_trumpet(void **state)
{
    (void)state;
    struct hbk_horn horn;
    static const double percent[] = {12.246, 5.946};
    make_valved(&horn, 2, percent);
    horn.sites[0].loop =
        (struct hbk_loop){.measure = HBK_LOOP_CENTS, .value = 200.0};
    horn.sites[1].loop =
        (struct hbk_loop){.measure = HBK_LOOP_CENTS, .value = 100.0};
    const double open = hz_of(&horn, "0", 2);
    check_abs(140.0 * ((open / hz_of(&horn, "2", 2)) - 1.0), 8.3, 0.1);
    check_abs(140.0 * ((open / hz_of(&horn, "1", 2)) - 1.0), 17.2, 0.1);
    check_abs(140.0 * ((open / hz_of(&horn, "1-2", 2)) - 1.0), 25.5, 0.1);
    check_abs(140.0 * (exp2(3.0 / 12.0) - 1.0), 26.5, 0.1);
    hbk_horn_finish(&horn);
}

/*
 * Deviation of the natural harmonics from the nearest note of equal
 * temperament: exact arithmetic, 1200 log2 p.
 */
static void natural_harmonics(void **state)
{
    (void)state;
    static const double cents[] = {
        0,     0,       0,       1.955, 0,      -13.686, 1.955,   -31.174, 0,
        3.910, -13.686, -48.682, 1.955, 40.528, -31.174, -11.731, 0};
    struct hbk_horn horn;
    make_valved(&horn, 0, NULL);
    const double fundamental = hz_of(&horn, "0", 1);
    for (unsigned p = 2; p <= 16; p++) {
        const double above = hbk_cents(hz_of(&horn, "0", p), fundamental);
        check_abs(above - (100.0 * round(above / 100.0)), cents[p], 0.001);
    }
    hbk_horn_finish(&horn);
}

/* c / 2L with c = 343.28 m/s at 20 degrees (Keefe 1984, from memory). */
static void a_half_wave_fits_the_tube(void **state)
{
    (void)state;
    struct hbk_horn horn;
    make_valved(&horn, 0, NULL);
    check_abs(hz_of(&horn, "0", 1), 343.2816 / 2.8, 1e-4);
    horn.partials.stretch_cents[3] = -7.3;
    check_abs(hbk_cents(hz_of(&horn, "0", 3), hz_of(&horn, "0", 1)),
              1901.955 - 7.3, 1e-3);
    hbk_horn_finish(&horn);
}

/* A hole given by its place is worth the tube between it and the end. */
static void holes_by_place_and_by_semitones(void **state)
{
    (void)state;
    struct hbk_horn horn;
    make_valved(&horn, 0, NULL);
    for (size_t i = 0; i < 2; i++) {
        horn.controls[i] = (struct hbk_control){.kind = HBK_KEY,
                                                .name = i == 0 ? "1" : "2",
                                                .stands_open = i == 0,
                                                .n_fingers = 1};
        horn.sites[i] = (struct hbk_site){
            .kind = HBK_HOLE,
            .at_rest = i == 0,
            .n_terms = 1,
            .terms = {UINT32_C(1) << i},
            .hole = {.raises = (double)NAN,
                     .from_bell_m = i == 0 ? 0.0837 : 0.1713}};
    }
    horn.n_controls = 2;
    horn.n_sites = 2;
    const double rest = hz_of(&horn, "0", 2);
    check_rel(hz_of(&horn, "1", 2), rest * 1.4 / (1.4 + 0.0837), 1e-12);
    check_rel(hz_of(&horn, "2", 2), rest * 1.4 / (1.4 - 0.0876), 1e-12);
    check_rel(hz_of(&horn, "1-2", 2), hz_of(&horn, "2", 2), 1e-12);
    check_abs(hbk_column_raise(&horn, 2), 12.0 * log2(1.4 / (1.4 - 0.0876)),
              1e-9);
    horn.sites[0].hole.raises = -1.0;
    horn.sites[1].hole.raises = 2.0;
    check_abs(hbk_cents(hz_of(&horn, "1", 2), rest), -100.0, 1e-9);
    check_abs(hbk_cents(hz_of(&horn, "2", 2), rest), 200.0, 1e-9);
    check_abs(hbk_column_raise(&horn, 3), 2.0, 1e-12);
    check_abs(hbk_column_raise(&horn, 1), 0.0, 1e-12);
    hbk_horn_finish(&horn);
}

static void no_air_left_is_said(void **state)
{
    (void)state;
    struct hbk_horn horn;
    static const double percent[] = {-150.0};
    make_valved(&horn, 1, percent);
    const struct hbk_rig rig = {.temperature_c = 20.0, .crook = -1};
    struct hbk_peak row[HBK_PEAK_STRIDE] = {{.hz = 7.25}};
    struct hbk_faults faults = {0};
    const uint32_t press = 1;
    assert_int_equal(hbk_column_peaks(&horn, &rig, 1, &press, row, &faults),
                     HBK_ERR_DOMAIN);
    assert_int_equal(faults.errors, 1);
    assert_true(row[0].hz == 7.25);
    hbk_horn_finish(&horn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_brass_pedagogy_table),
        cmocka_unit_test(exact_single_loops_are_sharp_together),
        cmocka_unit_test(just_ratio_loops),
        cmocka_unit_test(the_compromise_third_loop),
        cmocka_unit_test(a_flat_a_would_want_longer_loops),
        cmocka_unit_test(centimeters_of_a_trumpet),
        cmocka_unit_test(natural_harmonics),
        cmocka_unit_test(a_half_wave_fits_the_tube),
        cmocka_unit_test(holes_by_place_and_by_semitones),
        cmocka_unit_test(no_air_left_is_said),
    };
    return cmocka_run_group_tests_name("length_column", tests, NULL, NULL);
}
