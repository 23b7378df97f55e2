/* Every horn that comes with the program is read and solved here. */
#include "support/solved.h"

#include "horn/about.h"
#include "horn/horn.h"

static void every_shipped_horn_is_read_and_solved(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    assert_true(n >= 25);
    for (size_t i = 0; i < n; i++) {
        struct solved s;
        solved_open(&s, horns[i].name);
        assert_string_equal(s.horn.id, horns[i].name);
        assert_non_null(s.horn.source);
        assert_int_equal(s.faults.count, 0);
        /* A plain length is in tune with itself, so nothing is drawn. */
        if (s.horn.model == HBK_MODEL_LENGTH) {
            check_abs(s.notes.tuned.before_cents, 0.0, 0.01);
        }
        /* The lowest and highest notes of a stated compass are really there */
        assert_true(s.notes.notes[0].n > 0);
        assert_true(s.notes.notes[s.notes.n - 1].n > 0);
        for (size_t k = 0; k < s.notes.n; k++) {
            const struct hbk_note *const note = &s.notes.notes[k];
            for (size_t f = 0; f < note->n; f++) {
                const struct hbk_fingering *const way = &note->fingerings[f];
                assert_true(fabs(way->cents) <= s.setting.lip_cents);
                check_abs(way->cents, hbk_cents(way->hz, note->target_hz),
                          1e-9);
            }
        }
        solved_close(&s);
    }
    hbk_arena_finish(&arena);
}

/*
 * What written C4 sounds in treble notation, and the half-wave length that
 * goes with it at A = 440 (common practice worked out
 * with c = 343.2 m/s, to the millimetre).
 */
static void lengths_follow_the_pitch(void **state)
{
    (void)state;
    static const struct {
        const char *horn, *sounds;
        double half_wave_mm;
    } cases[] = {{"cornet-e-flat-rotary", "Eb4", 1103},
                 {"keyed-bugle-c-6", "C4", 1312},
                 {"cornet-b-flat", "Bb3", 1472},
                 {"saxhorn-soprano-b-flat", "Bb3", 1472},
                 {"alto-e-flat", "Eb3", 2206},
                 {"baritone-b-flat", "Bb2", 2945},
                 {"bass-e-flat", "Eb2", 4412}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct solved s;
        solved_open(&s, cases[i].horn);
        assert_int_equal(s.notes.written_c4_sounds, note_of(cases[i].sounds));
        assert_int_equal(s.horn.clef, HBK_TREBLE);
        check_abs(1000.0 * 343.2 / (2.0 * s.horn.fundamental_hz),
                  cases[i].half_wave_mm, 0.51);
        solved_close(&s);
    }
}

/* Whatever the horn, two runs agree to the last bit. */
static void two_runs_agree(void **state)
{
    (void)state;
    struct solved a;
    struct solved b;
    solved_open(&a, "ophicleide-c-11");
    solved_open(&b, "ophicleide-c-11");
    assert_int_equal(a.notes.n, b.notes.n);
    for (size_t i = 0; i < a.notes.n; i++) {
        assert_int_equal(a.notes.notes[i].n, b.notes.notes[i].n);
        assert_memory_equal(
            a.notes.notes[i].fingerings, b.notes.notes[i].fingerings,
            a.notes.notes[i].n * sizeof(*a.notes.notes[i].fingerings));
    }
    solved_close(&a);
    solved_close(&b);
}

/* A touch that opens two holes is one finger, and one control. */
static void a_touch_over_two_holes(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "ophicleide-c-11");
    const int key = hbk_horn_find_control(&s.horn, HBK_KEY, "9");
    const int under = hbk_horn_find_control(&s.horn, HBK_KEY, "8");
    assert_true(key >= 0 && under >= 0);
    size_t opened = 0;
    for (size_t k = 0; k < s.horn.n_sites; k++) {
        opened += hbk_site_state(&s.horn.sites[k], UINT32_C(1) << key) &&
                  !s.horn.sites[k].at_rest;
    }
    assert_int_equal(opened, 2);
    solved_close(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_shipped_horn_is_read_and_solved),
        cmocka_unit_test(lengths_follow_the_pitch),
        cmocka_unit_test(two_runs_agree),
        cmocka_unit_test(a_touch_over_two_holes),
    };
    return cmocka_run_group_tests_name("shipped", tests, NULL, NULL);
}
