/* What every head says: pitch, temperature, slides, what stays off. */
#include "support/charts.h"

#include "sheet/words/words.h"

/* A shipped horn whose slides are then put where a case wants them. */
struct placed {
    struct solved solved;
    double draw_m[HBK_SLIDES_MAX];
};

static void place(struct placed *p, const char *name)
{
    solved_open(&p->solved, name);
    memset(p->draw_m, 0, sizeof(p->draw_m));
    p->solved.notes.tuned.draw_m = p->draw_m;
    p->solved.notes.tuned.want_m = NULL;
}

static void check_slides(struct placed *p, enum hbk_words_length length,
                         const char *wanted)
{
    assert_string_equal(
        hbk_words_slides(&p->solved.arena, &p->solved.notes, length), wanted);
}

static void every_slide_is_told(void **state)
{
    (void)state;
    struct placed p;
    place(&p, "cornet-b-flat");
    check_slides(&p, HBK_WORDS_FULL,
                 "Tuned on C5 (open): main slide in; valve slides in.");
    check_slides(&p, HBK_WORDS_BRIEF,
                 "Tuned on C5: main slide in; valve slides in.");
    static const double draws_m[] = {10.4e-3, 3.1e-3, 0.4e-3, 5.0e-3};
    memcpy(p.draw_m, draws_m, sizeof(draws_m));
    check_slides(&p, HBK_WORDS_FULL,
                 "Tuned on C5 (open): main slide 10 mm out; valve slides: "
                 "first 3, second 0, third 5 mm, keeping each valve\u2019s own "
                 "interval.");
    check_slides(&p, HBK_WORDS_BRIEF,
                 "Tuned on C5: main slide 10 mm out; valve slides: first 3, "
                 "second 0, third 5 mm.");
    p.solved.notes.setting.valve_slides = HBK_VALVE_SLIDES_BEST;
    check_slides(&p, HBK_WORDS_FULL,
                 "Tuned on C5 (open): main slide 10 mm out; valve slides: "
                 "first 3, second 0, third 5 mm, the best compromise.");
    check_slides(&p, HBK_WORDS_BRIEF,
                 "Tuned on C5: main slide 10 mm out; valve slides: first 3, "
                 "second 0, third 5 mm, a compromise.");
    /* Where the length was measured, half a mm is known. */
    p.solved.horn.provenance[HBK_PART_LENGTH] = HBK_MEASURED;
    p.solved.notes.setting.raw = true;
    check_slides(&p, HBK_WORDS_FULL,
                 "Not tuned first, as the file has it: main slide 10.5 mm "
                 "out; valve slides: first 3, second 0.5, third 5 mm.");
    solved_close(&p.solved);
}

static void what_is_stuck_is_told(void **state)
{
    (void)state;
    struct placed p;
    place(&p, "cornet-b-flat");
    p.solved.notes.setting.stuck.slides = 1U | 4U;
    check_slides(
        &p, HBK_WORDS_FULL,
        "Tuned on C5 (open); the main slide is stuck in; valve slides: "
        "first 0, second 0 (stuck), third 0 mm, keeping each valve\u2019s own "
        "interval.");
    p.draw_m[0] = 12e-3;
    p.solved.notes.setting.valve_slides = HBK_VALVE_SLIDES_HOME;
    check_slides(&p, HBK_WORDS_FULL,
                 "Tuned on C5 (open); the main slide is stuck 12 mm out; valve "
                 "slides: first 0, second 0 (stuck), third 0 mm.");
    p.solved.notes.setting.stuck = (struct hbk_stuck){.held_down = 4U};
    check_slides(&p, HBK_WORDS_FULL,
                 "Slides as for C5 (open) before valve 3 stuck: main slide "
                 "12 mm out; valve slides in.");
    p.solved.notes.setting.stuck.held_up = 1U;
    check_slides(&p, HBK_WORDS_BRIEF,
                 "Slides as for C5 before they stuck: main slide 12 mm out; "
                 "valve slides in.");
    p.solved.notes.setting.stuck.slides = 1U;
    p.solved.notes.setting.stuck.held_up = 0;
    check_slides(&p, HBK_WORDS_FULL,
                 "Slides as for C5 (open) before valve 3 stuck; the main slide "
                 "is stuck 12 mm out; valve slides in.");
    solved_close(&p.solved);
}

static void nothing_is_said_of_slides_a_horn_has_not(void **state)
{
    (void)state;
    struct placed p;
    place(&p, "keyed-bugle-c-6");
    p.draw_m[0] = 4e-3;
    check_slides(&p, HBK_WORDS_FULL, "Tuned on C5 (open): shank 4 mm out.");
    solved_close(&p.solved);
    place(&p, "bugle-b-flat");
    check_slides(&p, HBK_WORDS_FULL, "Tuned on C5: there is no tuning slide.");
    static const struct hbk_bit bits[] = {{6e-3}, {12e-3}};
    p.solved.horn.bits = bits;
    p.solved.horn.n_bits = 2;
    check_slides(&p, HBK_WORDS_FULL, "Tuned on C5: no tuning bit in.");
    p.solved.notes.tuned.bits = 3;
    check_slides(&p, HBK_WORDS_FULL,
                 "Tuned on C5: tuning bit of 6 mm in, tuning bit of 12 mm in.");
    solved_close(&p.solved);
}

/* The head names the temperature that was given. */
static void the_temperature_given_is_named(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_setting setting = {
        .a4_hz = 452.5, .temperature_c = 20.0, .room_c = (double)NAN};
    assert_string_equal(hbk_words_pitch(&arena, &setting),
                        "A = 452.5 Hz, 20 \u00B0C in the horn");
    setting.room_c = 18.5;
    setting.temperature_c = 24.7;
    assert_string_equal(hbk_words_pitch(&arena, &setting),
                        "A = 452.5 Hz, 18.5 \u00B0C in the room (25 in the "
                        "horn)");
    hbk_arena_finish(&arena);
}

static void check_rest(struct solved *s, double left_cents, const char *wanted)
{
    s->notes.tuned.left_cents = left_cents;
    assert_string_equal(hbk_words_rest(&s->arena, &s->notes, HBK_WORDS_FULL),
                        wanted);
}

static void what_stays_off_is_told_from_half_a_cent(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "cornet-b-flat");
    s.notes.setting.a4_hz = 452.5;
    s.notes.tuned.pitch_hz = 440.13;
    check_rest(&s, 0.49, "");
    check_rest(&s, 0.5,
               "All notes are 1 cent sharp of A = 452.5 Hz: this horn plays "
               "at A = 440.1.");
    assert_false(hbk_rest_alarms(&s.notes));
    check_rest(&s, -48.2,
               "All notes are 48 cents flat of A = 452.5 Hz: this horn plays "
               "at A = 440.1.");
    assert_true(hbk_rest_alarms(&s.notes));
    assert_string_equal(hbk_words_rest(&s.arena, &s.notes, HBK_WORDS_BRIEF),
                        "All notes 48 cents flat of A = 452.5.");
    solved_close(&s);
}

static size_t times(const char *words, const char *wanted)
{
    size_t n = 0;
    while ((words = strstr(words, wanted)) != NULL) {
        words += strlen(wanted);
        n++;
    }
    return n;
}

/*
 * 1200 log2(440 / 452.4) = -48.1; the slide goes in by 10 mm on two legs, 20
 * of 1473 mm of half wave or 23.7 cents, which leaves 24. It is told once,
 * and the notes are judged by the pitch that the horn then has.
 */
static void a_flat_horn_is_told_once_on_each_layout(void **state)
{
    (void)state;
    for (int layout = 0; layout < HBK_LAYOUT_COUNT; layout++) {
        struct chart chart;
        solved_open(&chart.solved, "cornet-b-flat");
        lay_out_as(&chart, (enum hbk_layout)layout,
                   (struct hbk_sheet_options){0});
        const size_t lips = times(words_of(&chart), "lip up");
        assert_int_equal(times(words_of(&chart), "24 cents flat"), 0);
        chart.solved.setting.a4_hz = 452.4;
        solved_run(&chart.solved);
        lay_out_as(&chart, (enum hbk_layout)layout,
                   (struct hbk_sheet_options){0});
        /* Heads of further pages may say less; none says it twice. */
        const size_t heads = times(words_of(&chart), "Written C sounds");
        const size_t told =
            times(words_of(&chart), "24 cents flat of A = 452.4");
        assert_true(told >= 1 && told <= heads);
        assert_int_equal(times(words_of(&chart), "main slide in; valve"), told);
        assert_int_equal(times(words_of(&chart), "lip up"), lips);
        solved_close(&chart.solved);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_slide_is_told),
        cmocka_unit_test(what_is_stuck_is_told),
        cmocka_unit_test(nothing_is_said_of_slides_a_horn_has_not),
        cmocka_unit_test(the_temperature_given_is_named),
        cmocka_unit_test(what_stays_off_is_told_from_half_a_cent),
        cmocka_unit_test(a_flat_horn_is_told_once_on_each_layout),
    };
    return cmocka_run_group_tests_name("slide_words", tests, NULL, NULL);
}
