/* Horn files into the model: units, defaults, what they are based on. */
#include "support/check.h"

#include "base/file.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "reader/horn_file.h"
#include "reader/shipped.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double TOL_ROUNDING = 1e-12;

static void read_good(const char *name, struct hbk_horn *horn)
{
    static char path[256]; /* outlives the horn, as the header asks */
    struct hbk_faults faults = {0};
    (void)snprintf(path, sizeof(path), "tests/data/good/%s.yaml", name);
    if (hbk_horn_read(path, horn, &faults) != HBK_OK) {
        char line[1024];
        hbk_fault_format(&faults.items[0], line, sizeof(line));
        fail_msg("%s", line);
    }
    assert_int_equal(faults.count, 0);
    assert_string_equal(horn->id, name);
}

static enum hbk_status read_text(const char *text, struct hbk_horn *horn,
                                 struct hbk_faults *faults)
{
    memset(faults, 0, sizeof(*faults));
    return hbk_horn_read_text("t.yaml", text, strlen(text), horn, faults);
}

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
    check_abs(horn.player_offset_cents, -10.0, 0.0);
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

static void a_horn_based_on_another_overrides_part_by_part(void **state)
{
    (void)state;
    struct hbk_horn horn;
    read_good("based-on", &horn);
    assert_string_equal(horn.name, "The same, in B flat");
    /* Kept from the older file. */
    assert_string_equal(horn.remarks[1], "1825");
    check_abs(horn.player_offset_cents, -10.0, 0.0);
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

static void faults_come_in_the_order_of_the_file(void **state)
{
    (void)state;
    struct hbk_horn horn;
    struct hbk_faults faults;
    /* The reader meets these from the last line to the first. */
    assert_int_equal(
        read_text("hornbook: 1\nslides: [{slide: main}]\nvalves: [{valve: 1}]\n"
                  "bore: [[1, 2]]\nclef: x\nname: ''\nlength: 1312\n",
                  &horn, &faults),
        HBK_ERR_INPUT);
    assert_true(faults.count >= 7);
    for (size_t i = 1; i < faults.count; i++) {
        assert_true(faults.items[i - 1].line <= faults.items[i].line);
    }
    hbk_horn_finish(&horn);
}

static void all_faults_of_a_long_file_are_counted(void **state)
{
    (void)state;
    struct hbk_horn horn;
    struct hbk_faults faults;
    char text[4096] = "hornbook: 1\nname: X\nwritten_c4_sounds: C4\n"
                      "length: 1312\nkeys:\n";
    for (int i = 1; i <= 25; i++) {
        const size_t used = strlen(text);
        (void)snprintf(text + used, sizeof(text) - used,
                       "- {key: %d, rest: shut, raises: 1, finger: none}\n", i);
    }
    assert_int_equal(read_text(text, &horn, &faults), HBK_ERR_INPUT);
    assert_int_equal(faults.count, HBK_FAULTS_MAX);
    assert_int_equal(faults.errors, 25);
    hbk_horn_finish(&horn);
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

/* What horn_file.h promises of every horn it returns. */
static void check_sound(const struct hbk_horn *horn)
{
    uint32_t worked = 0;
    assert_non_null(horn->name);
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        assert_in_range(site->n_terms, 1, HBK_TERMS_MAX);
        for (size_t t = 0; t < site->n_terms; t++) {
            assert_true(site->terms[t] != 0);
            assert_true(horn->n_controls == 32 ||
                        site->terms[t] >> horn->n_controls == 0);
            worked |= site->terms[t];
        }
        if (site->kind == HBK_LOOP) {
            assert_true(site->loop.value > 0.0);
        } else {
            assert_true(!isnan(site->hole.raises) ||
                        site->hole.from_bell_m > 0.0);
        }
        if (horn->model == HBK_MODEL_BORE) {
            const double end =
                horn->bore.stations[horn->bore.n_stations - 1].x_m;
            assert_true(site->at_m >= 0.0 && site->at_m < end);
        }
    }
    for (size_t i = 0; i < horn->n_controls; i++) {
        assert_true((worked >> i & 1U) != 0);
        assert_in_range(horn->controls[i].n_fingers, 1, HBK_FINGERS_MAX);
    }
    assert_true(horn->partials.lowest <= horn->partials.highest);
    assert_true(horn->n_slides <= HBK_SLIDES_MAX);
    for (size_t s = 0; s < horn->n_slides; s++) {
        assert_true(horn->slides[s].stands_out_m >= 0.0 &&
                    horn->slides[s].stands_out_m <= horn->slides[s].travel_m);
    }
    if (horn->model == HBK_MODEL_LENGTH) {
        assert_true(isnan(horn->length_m) != isnan(horn->fundamental_hz));
    }
}

/* xorshift32, so that the changes are the same everywhere. */
static uint32_t next_random(uint32_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 17;
    *seed ^= *seed << 5;
    return *seed;
}

/* Changes a digit, cuts a piece, doubles one, or puts a morsel in. */
static size_t mutate(char *text, size_t length, size_t room, uint32_t *seed)
{
    static const char *const morsels[] = {
        "-",    "0",        "99999",    "[",      "]",
        "{",    "}",        ":",        ": ",     "\n",
        "  ",   "~",        "&a",       "*a",     "!t",
        "\"",   "'",        "|",        "#",      "1e308",
        ".nan", "at: 5",    "rest: in", "key: 1", "when: [1, 2]",
        "\xC3", "\xC3\xA9", "\t",       ",",      "opens: [1]"};
    const size_t n = sizeof(morsels) / sizeof(morsels[0]);
    const size_t at = length == 0 ? 0 : next_random(seed) % length;
    size_t size = 1 + (next_random(seed) % 40);
    size = size < length - at ? size : length - at;
    const uint32_t kind = next_random(seed) % 4;
    if (kind == 3) {
        const size_t digit = at + strcspn(text + at, "0123456789");
        if (digit < length) {
            text[digit] = (char)('0' + (next_random(seed) % 10));
        }
        return length;
    }
    if (kind == 0) {
        memmove(text + at, text + at + size, length - at - size);
        return length - size;
    }
    const char *const piece =
        kind == 1 ? morsels[next_random(seed) % n] : text + at;
    char copy[64];
    size = kind == 1 ? strlen(piece) : size;
    memcpy(copy, piece, size);
    if (length + size > room) {
        return length;
    }
    memmove(text + at + size, text + at, length - at);
    memcpy(text + at, copy, size);
    return length + size;
}

static void damaged_files_are_refused_or_sound(void **state)
{
    (void)state;
    static const char *const names[] = {
        "ascending",       "based-on",
        "bugle-by-bore",   "bugle-with-mouthpiece",
        "compensating",    "keyed-bugle-by-length",
        "six-independent", "yaml-forms"};
    enum { ROUNDS = 700, ROOM = 8192 };
    uint32_t seed = 0x1825;
    size_t accepted = 0;
    size_t refused = 0;
    for (size_t f = 0; f < sizeof(names) / sizeof(names[0]); f++) {
        struct hbk_arena arena = {0};
        struct hbk_faults none = {0};
        char *original = NULL;
        size_t size = 0;
        const char *const path =
            hbk_arena_printf(&arena, "tests/data/good/%s.yaml", names[f]);
        assert_int_equal(
            hbk_file_read(path, ROOM, &arena, &original, &size, &none), HBK_OK);
        for (int round = 0; round < ROUNDS; round++) {
            static char text[ROOM + 1];
            memset(text, 0, sizeof(text));
            memcpy(text, original, size);
            size_t length = size;
            const uint32_t changes = 1 + (next_random(&seed) % 3);
            for (uint32_t c = 0; c < changes; c++) {
                length = mutate(text, length, ROOM, &seed);
            }
            struct hbk_horn horn;
            struct hbk_faults faults = {0};
            if (hbk_horn_read_text(path, text, length, &horn, &faults) ==
                HBK_OK) {
                check_sound(&horn);
                assert_int_equal(faults.errors, 0);
                accepted++;
            } else {
                assert_true(faults.errors > 0);
                refused++;
            }
            hbk_horn_finish(&horn);
        }
        hbk_arena_finish(&arena);
    }
    /* Both ways were really tried. */
    assert_true(accepted > 500);
    assert_true(refused > 1000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_least_file_gets_the_defaults),
        cmocka_unit_test(fields_of_keys_arrive_in_metres),
        cmocka_unit_test(a_touch_can_open_several_holes),
        cmocka_unit_test(a_bore_arrives_with_its_sites_in_place),
        cmocka_unit_test(a_mouthpiece_arrives_in_si),
        cmocka_unit_test(compensating_loops_come_in_for_combinations),
        cmocka_unit_test(ascending_and_independent_valves_rest_in),
        cmocka_unit_test(a_horn_based_on_another_overrides_part_by_part),
        cmocka_unit_test(what_is_taken_over_is_of_the_pattern),
        cmocka_unit_test(what_changes_a_part_is_told_apart),
        cmocka_unit_test(a_horn_can_be_based_on_a_shipped_one),
        cmocka_unit_test(the_tuning_note_follows_the_compass),
        cmocka_unit_test(the_highest_partial_follows_the_compass),
        cmocka_unit_test(faults_come_in_the_order_of_the_file),
        cmocka_unit_test(all_faults_of_a_long_file_are_counted),
        cmocka_unit_test(names_and_paths_of_horns_are_told_apart),
        cmocka_unit_test(the_environment_can_name_another_data_folder),
        cmocka_unit_test(damaged_files_are_refused_or_sound),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
