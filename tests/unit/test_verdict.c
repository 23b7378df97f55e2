#include "support/check.h"

#include "horn/horn.h"
#include "notes/verdict.h"

/*
 * What is held of fingerings, on five notes made for it; the limits are the
 * program's own. An octave of a piston horn in its usual order: C5 open, B4 by
 * 2, B flat 4 by 1, A4 by 1-2 (common practice, no source).
 */
enum { N = 5, LOWEST = 68 /* G#4 */ };

struct made {
    struct hbk_horn horn;
    struct hbk_notes notes;
    struct hbk_note list[N];
    struct hbk_fingering of[N][4];
    struct hbk_arena arena;
};

static void open_made(struct made *made, enum hbk_model model)
{
    static const uint32_t first[N] = {6, 3, 1, 2, 0};
    *made = (struct made){.horn = {.model = model, .n_controls = 3}};
    made->horn.controls[0].fingers[0] = HBK_R_INDEX;
    made->horn.controls[1].fingers[0] = HBK_R_MIDDLE;
    made->horn.controls[2].fingers[0] = HBK_L_RING;
    made->horn.partials.avoid[7] = true;
    made->notes = (struct hbk_notes){.horn = &made->horn,
                                     .lowest = LOWEST,
                                     .highest = LOWEST + N - 1,
                                     .n = N,
                                     .notes = made->list};
    for (size_t i = 0; i < N; i++) {
        made->of[i][0] =
            (struct hbk_fingering){.press = first[i], .partial = 4};
        made->list[i] = (struct hbk_note){
            .written = LOWEST + (int)i, .n = 1, .fingerings = made->of[i]};
    }
}

static const struct hbk_fingering *judged(struct made *made, size_t note,
                                          size_t rank)
{
    made->notes.notes = made->list;
    hbk_verdicts_make(&made->notes, &made->arena);
    return &made->notes.notes[note].fingerings[rank];
}

/* Another fingering of A4 beside 1-2, which is 12 cents sharp. */
static const struct hbk_fingering *beside(struct made *made,
                                          struct hbk_fingering other)
{
    made->of[1][0].cents = 12.0;
    made->of[1][1] = other;
    made->list[1].n = 2;
    return judged(made, 1, 1);
}

static void over_thirty_cents_is_unreliable(void **state)
{
    (void)state;
    struct made made;
    open_made(&made, HBK_MODEL_LENGTH);
    made.of[0][0].cents = 30.0;
    made.of[1][0].cents = -30.1;
    made.of[2][0].cents = 30.1;
    made.of[2][0].taught = HBK_TAUGHT_YES;
    (void)judged(&made, 0, 0);
    static const bool want[N] = {false, true, true, false, false};
    for (size_t i = 0; i < N; i++) {
        assert_int_equal(made.notes.notes[i].fingerings[0].verdict,
                         want[i] ? HBK_VERDICT_UNRELIABLE : 0);
    }
    hbk_arena_finish(&made.arena);
}

static void a_partial_to_avoid_is_unreliable_unless_taught(void **state)
{
    (void)state;
    struct made made;
    open_made(&made, HBK_MODEL_LENGTH);
    made.of[0][0].partial = 7;
    made.of[0][0].taught = HBK_TAUGHT_NO;
    made.of[1][0].partial = 7;
    made.of[1][0].taught = HBK_TAUGHT_YES;
    assert_int_equal(judged(&made, 0, 0)->verdict, HBK_VERDICT_UNRELIABLE);
    assert_int_equal(judged(&made, 1, 0)->verdict, 0);
    hbk_arena_finish(&made.arena);
}

/* 3 dB are 0.71 of a height, 10 dB 0.32 of it. The median is 40 dB here. */
static void response_is_judged_beside_the_usual_note(void **state)
{
    (void)state;
    static const double db[N] = {29.9, 36.9, 40.0, 41.0, 40.5};
    static const unsigned want[N] = {HBK_VERDICT_CARE, 0, HBK_VERDICT_FREE,
                                     HBK_VERDICT_FREE, HBK_VERDICT_FREE};
    struct made made;
    open_made(&made, HBK_MODEL_BORE);
    for (size_t i = 0; i < N; i++) {
        made.of[i][0].response_db = db[i];
    }
    (void)judged(&made, 0, 0);
    for (size_t i = 0; i < N; i++) {
        assert_int_equal(made.notes.notes[i].fingerings[0].verdict, want[i]);
    }
    made.horn.model = HBK_MODEL_LENGTH;
    for (size_t i = 0; i < N; i++) {
        assert_int_equal(judged(&made, i, 0)->verdict, 0);
    }
    hbk_arena_finish(&made.arena);
}

static void a_weak_note_may_be_out_of_tune_as_well(void **state)
{
    (void)state;
    struct made made;
    open_made(&made, HBK_MODEL_BORE);
    made.of[0][0].response_db = -20.0;
    made.of[0][0].cents = 45.0;
    assert_int_equal(judged(&made, 0, 0)->verdict,
                     HBK_VERDICT_UNRELIABLE | HBK_VERDICT_CARE);
    hbk_arena_finish(&made.arena);
}

/* Each use with what would have been the next one, had it not held. */
static void a_use_is_the_first_that_holds(void **state)
{
    (void)state;
    struct made made;
    open_made(&made, HBK_MODEL_LENGTH);
    const struct hbk_fingering *f = beside(
        &made, (struct hbk_fingering){.press = 1, .partial = 7, .cents = 1.0});
    assert_int_equal(f->use, HBK_USE_AVOID);
    f = beside(&made,
               (struct hbk_fingering){.press = 1, .partial = 5, .cents = -6.9});
    assert_int_equal(f->use, HBK_USE_NEARER);
    f = beside(&made,
               (struct hbk_fingering){.press = 1, .partial = 5, .cents = -7.1});
    assert_int_equal(f->use, HBK_USE_AS_FOR);
    assert_int_equal(f->as_for, LOWEST + 2);
    f = beside(&made,
               (struct hbk_fingering){.press = 4, .partial = 5, .cents = 9.0});
    assert_int_equal(f->use, HBK_USE_FEWER_FINGERS);
    assert_int_equal(f->as_for, 0);
    made.of[1][0].press = 1;
    f = beside(&made,
               (struct hbk_fingering){.press = 4, .partial = 5, .cents = 9.0});
    assert_int_equal(f->use, HBK_USE_OTHER_HAND);
    f = beside(&made,
               (struct hbk_fingering){.press = 5, .partial = 5, .cents = 9.0});
    assert_int_equal(f->use, HBK_USE_NONE);
    hbk_arena_finish(&made.arena);
}

/*
 * A second key for tone (common practice, no source): the same partial at the
 * same pitch, but with a stronger resonance; of a bored horn alone.
 */
static void a_second_key_that_helps_the_tone_vents(void **state)
{
    (void)state;
    static const struct {
        enum hbk_model model;
        double cents, response_db;
        unsigned partial;
        bool vents;
    } cases[] = {{HBK_MODEL_BORE, 9.0, 1.5, 4, true},
                 {HBK_MODEL_LENGTH, 9.0, 1.5, 4, false},
                 {HBK_MODEL_BORE, 9.0, 0.5, 4, false},
                 {HBK_MODEL_BORE, 39.0, 1.5, 4, false},
                 {HBK_MODEL_BORE, 9.0, 1.5, 5, false}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct made made;
        open_made(&made, cases[i].model);
        const struct hbk_fingering first = made.of[1][0];
        uint32_t more = 0;
        for (size_t k = 0; k < made.horn.n_controls; k++) {
            if (more == 0 && made.horn.controls[k].kind == HBK_KEY &&
                (first.press >> k & 1u) == 0) {
                more = UINT32_C(1) << k;
            }
        }
        assert_true(more != 0);
        const struct hbk_fingering *f =
            beside(&made, (struct hbk_fingering){
                              .press = first.press | more,
                              .partial = cases[i].partial + first.partial - 4,
                              .cents = first.cents + cases[i].cents,
                              .response_db =
                                  first.response_db + cases[i].response_db});
        assert_int_equal(f->use == HBK_USE_VENTS, cases[i].vents);
        hbk_arena_finish(&made.arena);
    }
}

/* The first choice has no use beside itself, an idle one none for a note. */
static void only_alternates_have_a_use(void **state)
{
    (void)state;
    struct made made;
    open_made(&made, HBK_MODEL_LENGTH);
    const struct hbk_fingering idle = {.press = 5, .partial = 4, .cents = 40.0};
    made.list[2].n_idle = 1;
    made.list[2].idle = &idle;
    assert_int_equal(judged(&made, 2, 0)->use, HBK_USE_NONE);
    const struct hbk_note *const note = &made.notes.notes[2];
    assert_int_equal(note->idle[0].press, 5);
    assert_int_equal(note->idle[0].use, HBK_USE_NONE);
    assert_int_equal(note->idle[0].verdict, HBK_VERDICT_UNRELIABLE);
    hbk_arena_finish(&made.arena);
}

/* In a chord what counts is the distance from the note's place in it. */
static void truer_is_nearer_to_the_aim(void **state)
{
    (void)state;
    struct made made;
    open_made(&made, HBK_MODEL_LENGTH);
    struct hbk_fingering both[2] = {{.press = 3, .partial = 4, .cents = 0.0},
                                    {.press = 5, .partial = 5, .cents = -14.0}};
    hbk_uses_make(&made.notes, LOWEST + 1, 0.0, 2, both);
    assert_int_equal(both[1].use, HBK_USE_NONE);
    hbk_uses_make(&made.notes, LOWEST + 1, -13.7, 2, both);
    assert_int_equal(both[1].use, HBK_USE_NEARER);
    hbk_arena_finish(&made.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(over_thirty_cents_is_unreliable),
        cmocka_unit_test(a_partial_to_avoid_is_unreliable_unless_taught),
        cmocka_unit_test(response_is_judged_beside_the_usual_note),
        cmocka_unit_test(a_weak_note_may_be_out_of_tune_as_well),
        cmocka_unit_test(a_use_is_the_first_that_holds),
        cmocka_unit_test(a_second_key_that_helps_the_tone_vents),
        cmocka_unit_test(only_alternates_have_a_use),
        cmocka_unit_test(truer_is_nearer_to_the_aim),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
