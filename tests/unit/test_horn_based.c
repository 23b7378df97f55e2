/* Horns that are based on others: what is taken over, and as what. */
#include "support/horn_files.h"

static const double TOL_ROUNDING = 1e-12;

static void a_horn_based_on_another_overrides_part_by_part(void **state)
{
    (void)state;
    struct hbk_horn horn;
    read_good("based-on", &horn);
    assert_string_equal(horn.name, "The same, in B flat");
    /* Kept from the older file. */
    assert_string_equal(horn.remarks[1], "1825");
    check_abs(horn.habit.offset_cents, -10.0, 0.0);
    /* The newer fundamental drops the older length. */
    assert_true(isnan(horn.length_m) && !isnan(horn.fundamental_hz));
    /* Key 1 has its own lift and the rest of the older key. */
    check_abs(horn.sites[0].hole.pad_lift_m, 0.009, TOL_ROUNDING);
    check_abs(horn.sites[0].hole.raises, -1.0, 0.0);
    assert_int_equal(horn.controls[2].n_fingers, 1);
    assert_int_equal(horn.controls[2].fingers[0], HBK_R_MIDDLE);
    check_abs(horn.sites[3].hole.from_bell_m, 0.4, TOL_ROUNDING);
    assert_int_equal(hbk_horn_find_control(&horn, HBK_KEY, "7"), -1);
    assert_int_equal(hbk_horn_find_control(&horn, HBK_KEY, "8"), 6);
    assert_int_equal(hbk_horn_find_control(&horn, HBK_KEY, "9"), 7);
    assert_int_equal(hbk_horn_find_control(&horn, HBK_VALVE, "1"), 8);
    assert_int_equal(horn.n_crooks, 1);
    check_abs(horn.slides[0].travel_m, 0.03, TOL_ROUNDING);
    /* Key 4 is mended, key 7 gone, the shank stuck elsewhere. */
    assert_int_equal(horn.stuck.held_down, 1);
    assert_int_equal(horn.stuck.slides, 1);
    check_abs(horn.stuck.slide_out_m[0], 0.0125, TOL_ROUNDING);
    check_abs(horn.slides[0].stands_out_m, 0.0085, TOL_ROUNDING);
    assert_int_equal(horn.slides[0].legs, 1);
    hbk_horn_finish(&horn);
    read_good("based-on-twice", &horn);
    const struct hbk_site *const loop = &horn.sites[horn.n_sites - 1];
    assert_int_equal(loop->loop.measure, HBK_LOOP_METRES);
    check_abs(loop->loop.value, 0.18, TOL_ROUNDING);
    hbk_horn_finish(&horn);
}

static void what_is_taken_over_is_of_the_pattern(void **state)
{
    (void)state;
    struct hbk_horn horn;
    read_good("of-a-pattern", &horn);
    assert_int_equal(horn.provenance[HBK_PART_LENGTH], HBK_MEASURED);
    assert_int_equal(horn.provenance[HBK_PART_KEYS], HBK_OF_PATTERN);
    assert_int_equal(horn.provenance[HBK_PART_FINGERS], HBK_OF_PATTERN);
    assert_int_equal(horn.provenance[HBK_PART_SLIDES], HBK_UNSTATED);
    /* Key 4 was measured on the other horn. */
    assert_int_equal(horn.controls[3].provenance, HBK_OF_PATTERN);
    assert_int_equal(horn.controls[0].provenance, HBK_UNSTATED);
    assert_int_equal(horn.crooks[1].provenance, HBK_OF_PATTERN);
    hbk_horn_finish(&horn);
    /* Of what this one changes nothing is known but what it says itself. */
    read_good("based-on", &horn);
    assert_int_equal(horn.provenance[HBK_PART_LENGTH], HBK_UNSTATED);
    assert_int_equal(horn.provenance[HBK_PART_KEYS], HBK_UNSTATED);
    assert_int_equal(horn.provenance[HBK_PART_FINGERS], HBK_UNSTATED);
    hbk_horn_finish(&horn);
}

/* Which of the parts a change of the newer file touches, one at a time. */
static void what_changes_a_part_is_told_apart(void **state)
{
    (void)state;
    static const struct {
        const char *change;
        enum hbk_part lost[3]; /* HBK_PART_COUNT: no more */
    } cases[] = {
        {"clef: bass", {HBK_PART_COUNT}},
        {"tuning: {a4: 435}", {HBK_PART_TUNING, HBK_PART_COUNT}},
        {"valves: [{valve: 1, finger: left index}]",
         {HBK_PART_FINGERS, HBK_PART_COUNT}},
        {"valves: [{valve: 1, action: rotary}]", {HBK_PART_COUNT}},
        {"valves: [{valve: 2, lowers: 103}]",
         {HBK_PART_VALVES, HBK_PART_COUNT}},
        {"slides: [{slide: main, travel: 44}]",
         {HBK_PART_SLIDES, HBK_PART_COUNT}},
        {"fundamental: 116", {HBK_PART_LENGTH, HBK_PART_COUNT}},
        {"crooks: [{crook: B, adds: 50}]", {HBK_PART_CROOKS, HBK_PART_COUNT}},
        {"partials: {highest: 10}", {HBK_PART_PARTIALS, HBK_PART_COUNT}},
    };
    static const enum hbk_part all[] = {
        HBK_PART_LENGTH, HBK_PART_VALVES,  HBK_PART_SLIDES,  HBK_PART_CROOKS,
        HBK_PART_TUNING, HBK_PART_FINGERS, HBK_PART_PARTIALS};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        char text[256];
        struct hbk_horn horn;
        struct hbk_faults faults;
        (void)snprintf(
            text, sizeof(text),
            "hornbook: 1\nbased_on: tests/data/good/all-stated.yaml\n"
            "%s\n",
            cases[i].change);
        assert_int_equal(read_text(text, &horn, &faults), HBK_OK);
        for (size_t p = 0; p < sizeof(all) / sizeof(all[0]); p++) {
            bool is_lost = false;
            for (size_t k = 0; cases[i].lost[k] != HBK_PART_COUNT; k++) {
                is_lost = is_lost || cases[i].lost[k] == all[p];
            }
            const enum hbk_provenance want =
                is_lost ? HBK_UNSTATED : HBK_OF_PATTERN;
            if (horn.provenance[all[p]] != want) {
                fail_msg("%s: %s", cases[i].change, hbk_part_name(all[p]));
            }
        }
        hbk_horn_finish(&horn);
    }
}

static void a_horn_can_be_based_on_a_shipped_one(void **state)
{
    (void)state;
    struct hbk_horn horn;
    struct hbk_faults faults;
    assert_int_equal(read_text("hornbook: 1\nbased_on: cornet-b-flat\n"
                               "name: My cornet\n"
                               "valves: [{valve: 2, lowers: 103}]\n",
                               &horn, &faults),
                     HBK_OK);
    assert_int_equal(horn.n_controls, 3);
    assert_int_equal(horn.sites[1].loop.measure, HBK_LOOP_CENTS);
    check_abs(horn.sites[1].loop.value, 103.0, 0.0);
    hbk_horn_finish(&horn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_horn_based_on_another_overrides_part_by_part),
        cmocka_unit_test(what_is_taken_over_is_of_the_pattern),
        cmocka_unit_test(what_changes_a_part_is_told_apart),
        cmocka_unit_test(a_horn_can_be_based_on_a_shipped_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
