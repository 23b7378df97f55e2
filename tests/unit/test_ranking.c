/*
 * The default ranking against what players are taught. Nothing in src/ or in
 * the horn files lists these answers.
 */
#include "support/solved.h"

/*
 * The taught first fingering of all 31 notes F#3 to C6 (common practice, no
 * source; as in any tutor for three valves).
 */
static void three_valves_give_the_taught_fingering(void **state)
{
    (void)state;
    static const char *const horns[] = {
        "cornet-b-flat",        "cornet-b-flat-rotary",
        "cornet-e-flat-rotary", "saxhorn-soprano-b-flat",
        "cornopean-b-flat",     "alto-e-flat",
        "baritone-b-flat",      "bass-e-flat"};
    for (size_t i = 0; i < sizeof(horns) / sizeof(horns[0]); i++) {
        struct solved s;
        solved_open(&s, horns[i]);
        check_first_choices(&s, "F#3",
                            "1-2-3 1-3 2-3 1-2 1 2 0 1-2-3 1-3 2-3 1-2 1 2 0 "
                            "2-3 1-2 1 2 0 1-2 1 2 0 1 2 0 2-3 1-2 1 2 0");
        for (size_t k = 0; k < s.notes.n; k++) {
            assert_int_not_equal(s.notes.notes[k].fingerings[0].partial, 7);
        }
        /* Partial 7 is there as an alternate: G#5 on 1 (common practice). */
        const struct hbk_fingering *const seventh =
            fingering_of(&s, "G#5", "1", 7);
        assert_non_null(seventh);
        check_abs(seventh->cents, -32.9, 0.1);
        solved_close(&s);
    }
}

/*
 * Key effects from the names engraved on Saurle's bugle, Munich, c. 1825
 * (National Music Museum 10787), octaves inferred from the series of
 * partials; partials above the sixth avoided (Encyclopaedia Britannica 1911,
 * "Bugle").
 */
static void six_keys_give_every_first_choice(void **state)
{
    (void)state;
    static const char *const horns[] = {"keyed-bugle-c-6",
                                        "keyed-bugle-b-flat-6"};
    for (size_t i = 0; i < 2; i++) {
        struct solved s;
        solved_open(&s, horns[i]);
        check_first_choices(&s, "B3",
                            "1 0 2 3 4 5 6 1 0 2 3 4 1/5 0 2 3 4 0/5 6 1 0 2 3 "
                            "4 5/1 0/6");
        solved_close(&s);
    }
}

/* The English seventh key (Garrett, London, c. 1823): both ways are near. */
static void the_f_sharp_key_gives_a_second_way(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-bugle-b-flat-7-f-sharp");
    check_first_choices(&s, "F#4", "1/7");
    check_first_choices(&s, "C#5", "2/7");
    check_first_choices(&s, "F#5", "1/7");
    solved_close(&s);
}

/* The Saxon seventh key doubles E flat for another finger. */
static void the_second_e_flat_frees_the_thumb(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-bugle-b-flat-7-second-e-flat");
    check_first_choices(&s, "Eb4", "4/5");
    check_first_choices(&s, "Bb4", "4/5");
    solved_close(&s);
}

/*
 * Keys as recorded for ophicleides (National Music Museum 10789, MINIM-UK
 * 42770 and 41216); octaves from the eight-foot series with the fundamental
 * in use. On nine keys low F sharp and G sharp have none.
 */
static void ophicleides_follow_their_keys(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "ophicleide-c-9");
    check_first_choices(&s, "B1",
                        "1 0 2 3 4 5 6 - 7 - 8 9 1 0 2 3 4 5 6 1 0 2 3 4 1/5 0 "
                        "2 3 4 0/5 6 1 0 2 3 4 ~5/1 0");
    solved_close(&s);
    solved_open(&s, "ophicleide-c-11");
    check_first_choices(&s, "B1",
                        "1 0 2 3 4 5 6 7 8 9 10 11 1 0 2 3 4 5 6 1 0 2 3 4 1 0 "
                        "2 3 4 0 6 1 0 2 3 4 ~5/1 0");
    solved_close(&s);
}

/*
 * Four keys on a natural trumpet, worked out from the series of partials;
 * where two are named either is taught.
 */
static void the_keyed_trumpet_fills_its_fourth(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-trumpet-e-flat-4");
    check_first_choices(&s, "G3",
                        "0 1 2 3 4 0 1 2 3 0 1 2 0 1 2 3 4 0 1 ~0/2 ~1/3 "
                        "~0/2 ~1/3 ~2/4 0");
    solved_close(&s);
}

/* Worked out: 0 to 3 semitones from the partials leave four notes. */
static void two_valves_lack_four_notes(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "cornet-b-flat-two-valve");
    check_first_choices(
        &s, "A3", "1-2 1 2 0 - - - 1-2 1 2 0 - 1-2 1 2 0 1-2 1 2 0 1 2 0");
    /* G#5 exists only as the first valve on the flat seventh partial. */
    const struct hbk_note *const high = note_at(&s, "G#5");
    assert_int_equal(high->n, 1);
    assert_int_equal(high->fingerings[0].partial, 7);
    solved_close(&s);
}

static void half_tone_first_swaps_one_and_two(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "cornet-b-flat-half-tone-first");
    check_first_choices(&s, "A3", "1-2 2 1 0");
    check_first_choices(&s, "C5", "0 1-2 2 1 0 2 1 0");
    solved_close(&s);
}

/*
 * Two whole tones: 3 alone for A flat, 2-3 for five semitones (20 cents sharp
 * together), 1-3 for six (39): worked out from exact single loops.
 */
static void a_third_of_two_tones_reaches_lower(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "cornet-b-flat-third-two-tones");
    check_first_choices(&s, "G3", "2-3 3 1-2 1 2 0");
    check_abs(fingering_of(&s, "G3", "2-3", 2)->cents, 20.0, 0.5);
    check_abs(fingering_of(&s, "F#3", "1-3", 2)->cents, 39.0, 0.5);
    solved_close(&s);
}

/*
 * The valve in place of the E and F keys takes both from the partial above:
 * F is a tone below open G, E a tone below F sharp (key 1).
 */
static void a_tone_valve_stands_in_for_two_keys(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-bugle-c-tone-valve");
    check_first_choices(&s, "C4", "0 k2 k3 k4 k1-v1 v1 k1 0");
    solved_close(&s);
}

static void an_ascending_third_raises_a_tone(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "horn-f-ascending-third");
    const struct hbk_fingering *const up = fingering_of(&s, "A3", "3", 3);
    assert_non_null(up);
    check_abs(up->cents, 1.955, 0.01); /* as the third partial is */
    check_first_choices(&s, "G3", "0");
    solved_close(&s);
}

/* "Six independent": the first shortens most, and never two at once. */
static void independent_valves_go_one_by_one(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "trombone-six-independent");
    check_first_choices(&s, "F#3", "0 6 5 4 3 2 1 0");
    assert_int_equal(s.notes.n_presses, 7);
    solved_close(&s);
}

/* Takes out every loop that comes in only for a combination. */
static void drop_compensation(struct hbk_horn *horn)
{
    size_t kept = 0;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const uint32_t term = horn->sites[k].terms[0];
        if ((term & (term - 1)) == 0) {
            horn->sites[kept++] = horn->sites[k];
        }
    }
    assert_int_equal(horn->n_sites - kept, 3);
    horn->n_sites = kept;
}

/*
 * The loops that come in only with the fourth valve bring 2-4, 1-4, 1-2-4 and
 * 3-4 nearer pitch: the same horn without them is 25, 48, 79 and 71 cents
 * sharp there (exact single loops, computed).
 */
static void compensation_comes_nearer_pitch(void **state)
{
    (void)state;
    struct solved plain;
    struct solved compensating;
    solved_read(&plain, "euphonium-b-flat-compensating-4");
    drop_compensation(&plain.horn);
    plain.setting.lip_cents = 95.0;
    solved_run(&plain);
    solved_open(&compensating, "euphonium-b-flat-compensating-4");
    static const struct {
        const char *note, *label;
        double plain_cents;
    } cases[] = {{"F#3", "2-4", 24.55},
                 {"F3", "1-4", 48.04},
                 {"E3", "1-2-4", 78.80},
                 {"E3", "3-4", 70.51}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        const struct hbk_fingering *const with =
            fingering_of(&compensating, cases[i].note, cases[i].label, 2);
        const struct hbk_fingering *const without =
            fingering_of(&plain, cases[i].note, cases[i].label, 2);
        assert_non_null(with);
        assert_non_null(without);
        check_abs(without->cents, cases[i].plain_cents, 0.1);
        assert_true(fabs(with->cents) < 0.25 * without->cents);
    }
    solved_close(&plain);
    solved_close(&compensating);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_valves_give_the_taught_fingering),
        cmocka_unit_test(six_keys_give_every_first_choice),
        cmocka_unit_test(the_f_sharp_key_gives_a_second_way),
        cmocka_unit_test(the_second_e_flat_frees_the_thumb),
        cmocka_unit_test(ophicleides_follow_their_keys),
        cmocka_unit_test(the_keyed_trumpet_fills_its_fourth),
        cmocka_unit_test(two_valves_lack_four_notes),
        cmocka_unit_test(half_tone_first_swaps_one_and_two),
        cmocka_unit_test(a_third_of_two_tones_reaches_lower),
        cmocka_unit_test(a_tone_valve_stands_in_for_two_keys),
        cmocka_unit_test(an_ascending_third_raises_a_tone),
        cmocka_unit_test(independent_valves_go_one_by_one),
        cmocka_unit_test(compensation_comes_nearer_pitch),
    };
    return cmocka_run_group_tests_name("ranking", tests, NULL, NULL);
}
