/*
 * Horn files into the model: units and defaults. What they are based on is in
 * test_horn_based.c, files with faults in test_horn_faults.c.
 */
#include "support/horn_files.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "reader/shipped.h"

#include <stdlib.h>
#include <string.h>

static const double TOL_ROUNDING = 1e-12;

static void the_least_file_gets_the_defaults(void **state)
{
    (void)state;
    struct hbk_horn horn;
    read_good("minimal", &horn);
    assert_string_equal(horn.name, "Natural bugle");
    assert_null(horn.source);
    assert_int_equal(horn.written_c4_sounds, 58);
    assert_int_equal(horn.clef, HBK_TREBLE);
    assert_int_equal(horn.tuning_note, 72);
    check_abs(horn.a4_hz, 440.0, 0.0);
    check_abs(horn.temperature_c, 20.0, 0.0);
    assert_int_equal(horn.model, HBK_MODEL_LENGTH);
    assert_true(isnan(horn.length_m));
    /* B flat 2 is 23 semitones below A4 of 440 Hz: ISO 16 and the scale. */
    check_rel(horn.fundamental_hz, 440.0 / pow(2.0, 23.0 / 12.0), 1e-12);
    assert_int_equal(horn.partials.lowest, 2);
    assert_int_equal(horn.partials.highest, 8);
    assert_true(horn.partials.avoid[7] && horn.partials.avoid[14]);
    assert_false(horn.partials.avoid[8]);
    assert_false(horn.has_compass);
    hbk_horn_finish(&horn);
}

static void fields_of_keys_arrive_in_metres(void **state)
{
    (void)state;
    struct hbk_horn horn;
    read_good("keyed-bugle-by-length", &horn);
    check_abs(horn.length_m, 1.3125, TOL_ROUNDING);
    check_abs(horn.habit.offset_cents, -10.0, 0.0);
    check_abs(horn.partials.stretch_cents[5], 8.5, 0.0);
    assert_false(horn.partials.avoid[11]);
    assert_string_equal(horn.source,
                        "Semitones as engraved on the keys; fingers assumed");
    assert_string_equal(horn.remarks[1], "1825");
    assert_int_equal(horn.provenance[HBK_PART_KEYS], HBK_CATALOGUE);
    assert_int_equal(horn.provenance[HBK_PART_BORE], HBK_UNSTATED);
    assert_int_equal(horn.n_controls, 8);
    assert_true(horn.controls[0].stands_open);
    assert_string_equal(horn.controls[0].called, "B");
    assert_int_equal(horn.controls[2].n_fingers, 2);
    assert_int_equal(horn.controls[2].fingers[1], HBK_R_MIDDLE);
    assert_int_equal(horn.controls[3].provenance, HBK_MEASURED);
    assert_string_equal(horn.controls[5].name, "6a");
    const struct hbk_site *const first = &horn.sites[0];
    assert_true(first->at_rest);
    check_abs(first->hole.raises, -1.0, 0.0);
    check_abs(first->hole.pad_lift_m, 0.008, TOL_ROUNDING);
    assert_true(isnan(first->hole.diameter_m));
    check_abs(horn.sites[1].hole.from_bell_m, 0.212, TOL_ROUNDING);
    check_abs(horn.sites[1].hole.pad_diameter_m, 0.026, TOL_ROUNDING);
    check_abs(horn.sites[3].at_m, 0.9, TOL_ROUNDING);
    check_abs(horn.sites[3].hole.from_bell_m, 0.4125, TOL_ROUNDING);
    assert_int_equal(horn.sites[4].hole.flange, HBK_FLANGE_WIDE);
    check_abs(horn.slides[0].travel_m, 0.025, TOL_ROUNDING);
    check_abs(horn.slides[0].stands_out_m, 0.0085, TOL_ROUNDING);
    assert_int_equal(horn.stuck.held_down, 1 | 8 | 64);
    assert_int_equal(horn.stuck.held_up, 0);
    assert_int_equal(horn.stuck.slides, 1);
    check_abs(horn.stuck.slide_out_m[0], 0.0, 0.0);
    assert_int_equal(horn.slides[0].legs, 1);
    check_abs(horn.bits[1].adds_m, 0.0125, TOL_ROUNDING);
    assert_string_equal(horn.crooks[1].name, "B flat");
    assert_true(horn.crooks[1].has_written_c4);
    assert_int_equal(horn.crooks[1].written_c4_sounds, 58);
    check_abs(horn.crooks[1].adds_m, 0.16, TOL_ROUNDING);
    hbk_horn_finish(&horn);
}

/* Where a crook goes in, and what is to be said of it. */
static void a_crook_has_a_place_and_a_remark(void **state)
{
    (void)state;
    struct hbk_horn horn;
    read_good("quick-change", &horn);
    assert_int_equal(horn.n_crooks, 2);
    const struct hbk_crook *const change = &horn.crooks[0];
    assert_string_equal(change->kind, "slide");
    check_abs(change->at_m, 0.592, TOL_ROUNDING);
    check_abs(change->diameter_m, 0.0119, TOL_ROUNDING);
    assert_true(change->not_to_learn_from);
    assert_string_equal(change->remark,
                        "The change was measured on another cornet.");
    assert_true(isnan(horn.crooks[1].at_m));
    assert_false(horn.crooks[1].not_to_learn_from);
    assert_string_equal(horn.crooks[1].remark, "It is bent and may add less.");
    assert_false(horn.not_to_learn_from);
    hbk_horn_finish(&horn);
    read_good("keyed-bugle-by-length", &horn);
    assert_null(horn.crooks[1].remark);
    hbk_horn_finish(&horn);
}

/* Keys 7 and 8 of that file open the holes of others. */
static void a_touch_can_open_several_holes(void **state)
{
    (void)state;
    struct hbk_horn horn;
    read_good("keyed-bugle-by-length", &horn);
    const uint32_t key7 = UINT32_C(1) << 6;
    const uint32_t key8 = UINT32_C(1) << 7;
    assert_int_equal(horn.n_sites, 8);
    const struct hbk_site *const hole5 = &horn.sites[4];
    const struct hbk_site *const hole6 = &horn.sites[5];
    assert_true(hbk_site_state(hole5, key7));
    assert_true(hbk_site_state(hole6, key7));
    assert_true(hbk_site_state(hole5, key8));
    assert_false(hbk_site_state(hole6, key8));
    assert_true(hbk_site_state(&horn.sites[6], key8));
    assert_true(hbk_site_state(&horn.sites[7], key8));
    check_abs(horn.sites[7].hole.diameter_m, 0.012, TOL_ROUNDING);
    assert_false(hbk_site_state(&horn.sites[7], key7));
    hbk_horn_finish(&horn);
}

static void a_bore_arrives_with_its_sites_in_place(void **state)
{
    (void)state;
    struct hbk_horn horn;
    read_good("bugle-by-bore", &horn);
    assert_int_equal(horn.model, HBK_MODEL_BORE);
    assert_int_equal(horn.bore.n_stations, 7);
    check_abs(horn.bore.stations[3].x_m, 0.05, TOL_ROUNDING);
    check_abs(horn.bore.stations[3].radius_m, 0.00605, TOL_ROUNDING);
    assert_int_equal(horn.bore.wavefront, HBK_PLANE);
    assert_true(horn.bore.bell_flanged && horn.bore.step_inertance);
    assert_false(horn.bore.mouthpiece.given);
    /* from_bell and at are the two halves of 1201 mm. */
    check_abs(horn.sites[0].at_m, 1.074, TOL_ROUNDING);
    check_abs(horn.sites[2].at_m, 0.928, TOL_ROUNDING);
    check_abs(horn.sites[2].hole.from_bell_m, 0.273, TOL_ROUNDING);
    check_abs(horn.sites[3].at_m, 0.88, TOL_ROUNDING);
    const struct hbk_site *const loop = &horn.sites[4];
    assert_int_equal(loop->kind, HBK_LOOP);
    check_abs(loop->loop.value, 0.165, TOL_ROUNDING);
    check_abs(loop->loop.end_diameter_m, 0.0125, TOL_ROUNDING);
    check_abs(horn.sites[6].at_m, 0.075, TOL_ROUNDING);
    assert_int_equal(horn.controls[4].action, HBK_ACTION_STRING_ROTARY);
    check_abs(horn.controls[4].stroke_m, 0.012, TOL_ROUNDING);
    /* The trigger lengthens valve 1 where its loop is, by two legs. */
    const struct hbk_site *const drawn = &horn.sites[7];
    assert_true(drawn->loop.is_drawn);
    check_abs(drawn->loop.value, 0.04, TOL_ROUNDING);
    check_abs(drawn->at_m, 0.06, TOL_ROUNDING);
    assert_int_equal(drawn->terms[0], (1U << 6) | (1U << 4));
    assert_int_equal(horn.sites[8].terms[0], 1U << 7);
    assert_int_equal(horn.slides[0].legs, 2);
    assert_int_equal(horn.slides[0].valve, -1);
    assert_int_equal(horn.slides[1].valve, 4);
    hbk_horn_finish(&horn);
}

static void a_mouthpiece_arrives_in_si(void **state)
{
    (void)state;
    struct hbk_horn horn;
    read_good("bugle-with-mouthpiece", &horn);
    const struct hbk_mouthpiece *const piece = &horn.bore.mouthpiece;
    assert_true(piece->given);
    check_rel(piece->volume_m3, 5.5e-6, TOL_ROUNDING);
    check_abs(piece->throat_length_m, 0.006, TOL_ROUNDING);
    check_abs(piece->throat_radius_m, 0.002, TOL_ROUNDING);
    assert_int_equal(piece->n_backbore, 2);
    check_abs(piece->backbore[1].x_m, 0.055, TOL_ROUNDING);
    check_abs(piece->backbore[1].radius_m, 0.0045, TOL_ROUNDING);
    hbk_horn_finish(&horn);
}

static void compensating_loops_come_in_for_combinations(void **state)
{
    (void)state;
    struct hbk_horn horn;
    read_good("compensating", &horn);
    assert_int_equal(horn.clef, HBK_BASS);
    assert_int_equal(horn.n_sites, 7);
    const struct hbk_site *const plain = &horn.sites[0];
    assert_int_equal(plain->loop.measure, HBK_LOOP_SHARE);
    check_abs(plain->loop.value, 0.12246, TOL_ROUNDING);
    const struct hbk_site *const extra = &horn.sites[1];
    assert_false(hbk_site_state(extra, 1U << 0));
    assert_false(hbk_site_state(extra, 1U << 3));
    assert_true(hbk_site_state(extra, (1U << 0) | (1U << 3)));
    check_abs(extra->loop.value, 0.041, TOL_ROUNDING);
    assert_int_equal(horn.sites[2].loop.measure, HBK_LOOP_CENTS);
    check_abs(horn.sites[2].loop.value, 100.0, 0.0);
    check_abs(horn.sites[5].loop.value, 0.1805, TOL_ROUNDING);
    check_abs(horn.sites[6].loop.value, 0.33484, TOL_ROUNDING);
    hbk_horn_finish(&horn);
}

static void ascending_and_independent_valves_rest_in(void **state)
{
    (void)state;
    struct hbk_horn horn;
    read_good("ascending", &horn);
    assert_false(hbk_site_state(&horn.sites[0], 0));
    assert_true(hbk_site_state(&horn.sites[2], 0));
    assert_false(hbk_site_state(&horn.sites[2], 1U << 2));
    assert_true(horn.controls[2].rests_in);
    hbk_horn_finish(&horn);
    read_good("six-independent", &horn);
    for (size_t i = 0; i < horn.n_controls; i++) {
        assert_true(horn.controls[i].rests_in && horn.controls[i].alone);
        assert_true(horn.sites[i].at_rest);
    }
    hbk_horn_finish(&horn);
}

static void the_tuning_note_follows_the_compass(void **state)
{
    (void)state;
    static const struct {
        const char *compass;
        int note;
    } cases[] = {{"[F#3, C6]", 72}, {"[B1, C5]", 72}, {"[B1, A4]", 60},
                 {"[C#5, B5]", 73}, {"[D5, C7]", 84}, {"[D4, A4]", 69}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        char text[256];
        struct hbk_horn horn;
        struct hbk_faults faults;
        (void)snprintf(text, sizeof(text),
                       "hornbook: 1\nname: X\nwritten_c4_sounds: C4\n"
                       "length: 1312\ncompass: %s\n",
                       cases[i].compass);
        assert_int_equal(read_text(text, &horn, &faults), HBK_OK);
        assert_int_equal(horn.tuning_note, cases[i].note);
        hbk_horn_finish(&horn);
    }
}

/* Partials of a plain tube in the scale: a D is 9, an E 10, a G 12. */
static void the_highest_partial_follows_the_compass(void **state)
{
    (void)state;
    static const struct {
        const char *lines;
        unsigned highest;
    } cases[] = {
        {"compass: [C4, C6]\nfundamental: Bb2", 8},
        {"compass: [C4, G5]\nfundamental: Bb2", 8},
        {"compass: [C4, D6]\nfundamental: Bb2", 9},
        {"compass: [C4, E6]\nfundamental: Bb2", 10},
        /* F is nearest to 11, which is out of tune: lowered from 12. */
        {"compass: [C4, F6]\nfundamental: Bb2", 12},
        {"compass: [C4, C7]\nfundamental: Bb2", 16},
        {"compass: [C4, G7]\nfundamental: Bb2", 16},
        /* Twice as long, as a horn in low B flat read an octave up. */
        {"compass: [C4, C6]\nfundamental: Bb1", 16},
        {"compass: [C4, C6]\nlength: 1472", 8},
        {"compass: [C4, C6]\nlength: 2944", 16},
        /* An axis of 1380 mm is that of a horn in B flat. */
        {"compass: [C4, D6]\nbore: [[0, 12], [1380, 120]]", 9},
        {"fundamental: Bb2", 8},
        {"compass: [C4, C7]\nfundamental: Bb2\npartials: {highest: 7}", 7},
        {"compass: [C4, E6]\nfundamental: Bb2\npartials: {lowest: 1}", 10},
    };
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        char text[256];
        struct hbk_horn horn;
        struct hbk_faults faults;
        (void)snprintf(text, sizeof(text),
                       "hornbook: 1\nname: X\nwritten_c4_sounds: Bb3\n%s\n",
                       cases[i].lines);
        assert_int_equal(read_text(text, &horn, &faults), HBK_OK);
        if (horn.partials.highest != cases[i].highest) {
            fail_msg("%s: %u", cases[i].lines, horn.partials.highest);
        }
        hbk_horn_finish(&horn);
    }
}

static void names_and_paths_of_horns_are_told_apart(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    assert_true(hbk_shipped_is_path("./mine"));
    assert_true(hbk_shipped_is_path("mine.yaml"));
    assert_true(hbk_shipped_is_path("mine.yml"));
    assert_true(hbk_shipped_is_path("-"));
    assert_false(hbk_shipped_is_path("mine"));
    assert_false(hbk_shipped_is_path(".yaml"));
    assert_string_equal(hbk_shipped_find("no/such.yaml", &arena, &faults),
                        "no/such.yaml");
    assert_int_equal(faults.count, 0);
    assert_null(hbk_shipped_find("cornet-b-flatt", &arena, &faults));
    assert_int_equal(faults.count, 1);
    assert_int_equal(faults.items[0].number, 125);
    assert_non_null(strstr(faults.items[0].text, "'cornet-b-flat'"));
    hbk_arena_finish(&arena);
}

static void the_environment_can_name_another_data_folder(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    assert_true(n > 20);
    for (size_t i = 1; i < n; i++) {
        assert_true(strcmp(horns[i - 1].name, horns[i].name) < 0);
    }
    assert_int_equal(setenv("HORNBOOK_INSTRUMENTS", "tests/data", 1), 0);
    assert_int_equal(hbk_shipped_list(&arena, &horns), 0);
    assert_int_equal(unsetenv("HORNBOOK_INSTRUMENTS"), 0);
    assert_int_equal(hbk_shipped_list(&arena, &horns), n);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_least_file_gets_the_defaults),
        cmocka_unit_test(fields_of_keys_arrive_in_metres),
        cmocka_unit_test(a_crook_has_a_place_and_a_remark),
        cmocka_unit_test(a_touch_can_open_several_holes),
        cmocka_unit_test(a_bore_arrives_with_its_sites_in_place),
        cmocka_unit_test(a_mouthpiece_arrives_in_si),
        cmocka_unit_test(compensating_loops_come_in_for_combinations),
        cmocka_unit_test(ascending_and_independent_valves_rest_in),
        cmocka_unit_test(the_tuning_note_follows_the_compass),
        cmocka_unit_test(the_highest_partial_follows_the_compass),
        cmocka_unit_test(names_and_paths_of_horns_are_told_apart),
        cmocka_unit_test(the_environment_can_name_another_data_folder),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
