#ifndef HBK_TESTS_HORNS_H
#define HBK_TESTS_HORNS_H

#include "support/check.h"

#include "horn/horn.h"
#include "solve/solve.h"

#include <math.h>

/*
 * Horns made by hand, for tests of what stands above the reader. Figures are
 * plain: tubes in tune with themselves, keys whole semitones, valve loops the
 * compromise for three valves in shares of the open length.
 */

struct test_key {
    const char *name, *called;
    double raises;
    enum hbk_finger finger;
};

struct test_valve {
    const char *name;
    double share;
    enum hbk_finger finger;
};

static inline struct hbk_control *test_control(struct hbk_horn *horn,
                                               enum hbk_control_kind kind,
                                               const char *name,
                                               enum hbk_finger finger)
{
    struct hbk_control *control = &horn->controls[horn->n_controls++];
    *control = (struct hbk_control){.kind = kind,
                                    .name = name,
                                    .n_fingers = 1,
                                    .fingers = {finger},
                                    .stroke_m = (double)NAN};
    return control;
}

static inline struct hbk_site *test_site(struct hbk_horn *horn,
                                         enum hbk_site_kind kind)
{
    const double none = (double)NAN;
    struct hbk_site *site = &horn->sites[horn->n_sites++];
    *site = (struct hbk_site){.kind = kind, .at_m = none, .n_terms = 1};
    site->terms[0] = UINT32_C(1) << (horn->n_controls - 1);
    site->hole = (struct hbk_hole){.from_bell_m = none,
                                   .raises = none,
                                   .diameter_m = none,
                                   .chimney_m = none,
                                   .wall_m = none,
                                   .pad_diameter_m = none,
                                   .pad_lift_m = none};
    site->loop.diameter_m = none;
    site->loop.end_diameter_m = none;
    return site;
}

static inline void test_add_key(struct hbk_horn *horn, struct test_key key)
{
    struct hbk_control *control =
        test_control(horn, HBK_KEY, key.name, key.finger);
    control->called = key.called;
    control->stands_open = key.raises < 0.0;
    struct hbk_site *site = test_site(horn, HBK_HOLE);
    site->at_rest = control->stands_open;
    site->hole.raises = key.raises;
}

static inline void test_add_valve(struct hbk_horn *horn,
                                  struct test_valve valve)
{
    struct hbk_control *control =
        test_control(horn, HBK_VALVE, valve.name, valve.finger);
    control->action = HBK_ACTION_PISTON;
    struct hbk_site *site = test_site(horn, HBK_LOOP);
    site->loop.measure = HBK_LOOP_SHARE;
    site->loop.value = valve.share;
}

static inline void test_start(struct hbk_horn *horn, const char *name,
                              int sounds, double fundamental_hz, int lowest,
                              int highest)
{
    hbk_horn_init(horn);
    horn->path = "test.yaml";
    horn->id = "test";
    horn->name = name;
    horn->source = "Made for a test; the tube is taken to be in tune with "
                   "itself.";
    horn->written_c4_sounds = sounds;
    horn->fundamental_hz = fundamental_hz;
    horn->has_compass = true;
    horn->lowest = lowest;
    horn->highest = highest;
    horn->provenance[HBK_PART_LENGTH] = HBK_ASSUMED;
    horn->provenance[HBK_PART_TUNING] = HBK_ASSUMED;
}

static inline void test_add_slide(struct hbk_horn *horn, const char *name,
                                  double travel_m, int legs)
{
    struct hbk_slide *slide =
        HBK_ARENA_ARRAY(&horn->arena, struct hbk_slide, 1);
    *slide = (struct hbk_slide){.name = name,
                                .travel_m = travel_m,
                                .legs = legs,
                                .at_m = (double)NAN,
                                .diameter_m = (double)NAN,
                                .valve = -1};
    horn->slides = slide;
    horn->n_slides = 1;
    horn->provenance[HBK_PART_SLIDES] = HBK_ASSUMED;
}

/* Three valves in B flat, F sharp 3 to C6. */
static inline void test_cornet(struct hbk_horn *horn)
{
    test_start(horn, "Cornet in B\u266D, three pistons", 58,
               hbk_note_hz(46, 440.0), 54, 84);
    test_add_valve(horn, (struct test_valve){"1", 0.12356, HBK_R_INDEX});
    test_add_valve(horn, (struct test_valve){"2", 0.06001, HBK_R_MIDDLE});
    test_add_valve(horn, (struct test_valve){"3", 0.19998, HBK_R_RING});
    test_add_slide(horn, "main", 0.030, 2);
    horn->provenance[HBK_PART_VALVES] = HBK_CATALOGUE;
}

/* Two valves: some notes are out of reach. */
static inline void test_two_valves(struct hbk_horn *horn)
{
    test_start(horn, "Cornet in B\u266D, two pistons", 58,
               hbk_note_hz(46, 440.0), 57, 84);
    test_add_valve(horn, (struct test_valve){"1", 0.12246, HBK_R_INDEX});
    test_add_valve(horn, (struct test_valve){"2", 0.05946, HBK_R_MIDDLE});
    test_add_slide(horn, "main", 0.030, 2);
}

/* Six keys in C, B3 to C6. */
static inline void test_bugle(struct hbk_horn *horn)
{
    static const struct test_key keys[] = {
        {"1", "B", -1.0, HBK_R_LITTLE}, {"2", "C#", 1.0, HBK_R_RING},
        {"3", "D", 2.0, HBK_R_INDEX},   {"4", "Eb", 3.0, HBK_R_THUMB},
        {"5", "E", 4.0, HBK_L_THUMB},   {"6", "F", 5.0, HBK_L_INDEX}};
    test_start(horn, "Keyed bugle in C, six keys", 60, hbk_note_hz(48, 440.0),
               59, 84);
    horn->partials.avoid[8] = true;
    for (size_t i = 0; i < 6; i++) {
        test_add_key(horn, keys[i]);
    }
    test_add_slide(horn, "shank", 0.025, 1);
    horn->provenance[HBK_PART_KEYS] = HBK_CATALOGUE;
    horn->provenance[HBK_PART_FINGERS] = HBK_CATALOGUE;
}

/* Eleven keys in C, bass clef, B1 to C5; key 9 opens the hole of 8 too. */
static inline void test_ophicleide(struct hbk_horn *horn)
{
    static const struct test_key keys[] = {
        {"1", "B", -1.0, HBK_L_INDEX},   {"2", "C#", 1.0, HBK_L_MIDDLE},
        {"3", "D", 2.0, HBK_L_THUMB},    {"4", "Eb", 3.0, HBK_L_RING},
        {"5", "E", 4.0, HBK_R_THUMB},    {"6", "F", 5.0, HBK_R_LITTLE},
        {"7", "F#", 6.0, HBK_R_THUMB},   {"8", "G", 7.0, HBK_R_RING},
        {"9", "G#", 8.0, HBK_R_RING},    {"10", "A", 9.0, HBK_R_MIDDLE},
        {"11", "Bb", 10.0, HBK_R_INDEX}};
    static const char *const remark =
        "The touch of key 9 lies over that of key 8 and opens both holes.";
    test_start(horn, "Ophicleide in C, eleven keys", 60,
               hbk_note_hz(36, 440.0), 35, 72);
    horn->clef = HBK_BASS;
    horn->tuning_note = 48;
    horn->partials.lowest = 1;
    for (size_t i = 0; i < 11; i++) {
        test_add_key(horn, keys[i]);
    }
    horn->controls[6].fingers[1] = HBK_R_LITTLE;
    horn->controls[6].n_fingers = 2;
    horn->sites[7].terms[1] = UINT32_C(1) << 8;
    horn->sites[7].n_terms = 2;
    test_add_slide(horn, "crook tenon", 0.030, 1);
    horn->remarks = &remark;
    horn->n_remarks = 1;
}

/* A plain tube: partials 2 to 8 and nothing between. */
static inline void test_duty_bugle(struct hbk_horn *horn)
{
    test_start(horn, "Duty bugle in B\u266D", 58, hbk_note_hz(46, 440.0), 60,
               84);
}

static inline void test_solve(const struct hbk_horn *horn,
                              struct hbk_arena *arena, struct hbk_notes *notes)
{
    struct hbk_faults faults = {0};
    const struct hbk_setting setting = hbk_setting_of(horn);
    assert_int_equal(hbk_solve(horn, &setting, arena, notes, &faults), HBK_OK);
}

#endif
