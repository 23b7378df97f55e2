/*
 * Metal and habit: who plays is told from what is played, is kept apart in the
 * fitted file, and stands on a chart only when asked.
 */
#include "support/habits.h"

#include "edition/fit.h"
#include "fit/parameter_value.h"
#include "reader/horn_file.h"
#include "sheet/words/fit_words.h"
#include "solve/setting.h"
#include "solve/solve.h"

enum { SEEDS = 8 };

/* 20 cents over two octaves, noise 3, one slip. */
static void check_told_apart(const struct habits *of, double slack)
{
    static struct fitting f;
    double slope = 0.0;
    double with = 0.0;
    double without = 0.0;
    size_t nearer = 0;
    memset(&f, 0, sizeof(f));
    fitting_open(&f, of->horn);
    fitting_ask(&f, of->notes);
    for (uint64_t seed = 0; seed < SEEDS; seed++) {
        const struct habits_found habit =
            habits_run(&f, of, seed, 10.0, 3.0, 100.0);
        const struct habits_found none =
            habits_run(&f, of, seed, 0.0, 3.0, 100.0);
        slope += (habit.slope - none.slope) / SEEDS;
        with += habit.after.tuned * habit.after.tuned / SEEDS;
        without += none.after.tuned * none.after.tuned / SEEDS;
        nearer += habit.after.tuned < habit.before.tuned ? 1 : 0;
        assert_true(habit.has_slip);
        assert_true(none.has_slip);
        assert_int_equal(habit.n_sound_aside, 0);
        assert_int_equal(none.n_sound_aside, 0);
    }
    print_message("# %s: slope %.1f more, horn within %.1f and %.1f cents with "
                  "and without a habit, nearer in %zu of %d\n",
                  of->horn, slope, sqrt(with), sqrt(without), nearer, SEEDS);
    assert_true(nearer + 1 >= SEEDS);
    check_abs(slope, 8.5, 2.0);
    check_abs(sqrt(with), sqrt(without), slack);
    fitting_close(&f);
}

static void a_habit_is_not_taken_for_metal_by_length(void **state)
{
    (void)state;
    check_told_apart(&habits_of[0], 1.0);
}

static void a_habit_is_not_taken_for_metal_with_a_bore(void **state)
{
    (void)state;
    check_told_apart(&habits_of[2], 1.0);
}

/* A fitted file, read again, with its older name of the offset given. */
static void the_player_has_a_place_of_his_own_in_the_file(void **state)
{
    (void)state;
    static struct fitting f;
    static struct hbk_horn horn;
    struct rng rng = {.state = 7};
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_text out = {.arena = &arena};
    struct hbk_fit fit;
    fitting_open(&f, "tests/data/unfitted/keyed-bugle-c-6-munich.yaml");
    fitting_ask(&f, habits_of[2].notes);
    fitting_build(&f, &rng);
    fitting_read(&f, habits_of[2].n_read, 3.0, &rng);
    for (size_t i = 0; i < f.readings.n; i++) {
        f.items[i].cents += 12.0 * habits_octaves(&f, i);
    }
    fitting_fit(&f, &fit, &arena);
    /* The report has both: as played it is off by the habit and no more. */
    double offset = 0.0;
    double slope = 0.0;
    for (size_t p = 0; p < fit.report.n_values; p++) {
        const enum hbk_parameter_kind kind = fit.parameters.items[p].kind;
        const double value = fit.report.values[p].after;
        offset = kind == HBK_FIT_OFFSET ? value : offset;
        slope = kind == HBK_FIT_SLOPE ? value : slope;
    }
    assert_true(slope > 5.0);
    for (size_t i = 0; i < fit.report.n; i++) {
        const struct hbk_fit_reading *const item = &fit.report.items[i];
        const double hz =
            f.asked[i].reference_hz * hbk_cents_ratio(item->horn_cents);
        check_abs(item->after_cents - item->horn_cents,
                  offset + slope * hbk_habit_octaves(&f.base.horn, hz), 0.1);
    }
    assert_int_equal(hbk_fit_write_horn(&fit, &f.base.horn, &out, &faults),
                     HBK_OK);
    assert_non_null(strstr(hbk_text_string(&out), "\nplayer:"));
    assert_null(strstr(hbk_text_string(&out), "player_offset"));
    assert_int_equal(
        hbk_horn_read_text("again.yaml", out.bytes, out.length, &horn, &faults),
        HBK_OK);
    check_abs(horn.habit.slope_cents, 12.0, 6.0);
    /* The chart shows the horn; as played, every note is where the habit is. */
    struct hbk_setting setting = hbk_setting_of(&horn);
    setting.raw = true;
    struct hbk_notes plain;
    struct hbk_notes played;
    assert_int_equal(hbk_solve(&horn, &setting, &arena, &plain, &faults),
                     HBK_OK);
    setting.as_played = true;
    assert_int_equal(hbk_solve(&horn, &setting, &arena, &played, &faults),
                     HBK_OK);
    const struct hbk_fingering *const a = &plain.notes[10].fingerings[0];
    assert_true(plain.notes[10].n > 0);
    for (size_t k = 0; k < played.notes[10].n; k++) {
        const struct hbk_fingering *const b = &played.notes[10].fingerings[k];
        if (b->press == a->press && b->partial == a->partial) {
            check_abs(b->cents - a->cents, hbk_habit_cents(&horn, a->hz), 1e-6);
            hbk_horn_finish(&horn);
            hbk_arena_finish(&arena);
            fitting_close(&f);
            return;
        }
    }
    fail();
}

/* A cornet just as its file has it, read so. */
static void open_sound(struct fitting *f, struct rng *rng, double noise_cents)
{
    const double none[HBK_PARAMETERS_MAX] = {0};
    memset(f, 0, sizeof(*f));
    fitting_open(f, habits_of[0].horn);
    fitting_ask(f, habits_of[0].notes);
    fitting_follow(f, none, f->true_cents);
    fitting_read(f, habits_of[0].n_read, noise_cents, rng);
}

static void nothing_odd_is_said_of_a_horn_that_is_as_its_file(void **state)
{
    (void)state;
    static struct fitting f;
    size_t odd = 0;
    for (uint64_t seed = 1; seed <= 40; seed++) {
        struct rng rng = {.state = seed};
        struct hbk_arena arena = {0};
        struct hbk_fit fit;
        open_sound(&f, &rng, 3.0);
        fitting_fit(&f, &fit, &arena);
        odd += hbk_fit_words_odd(&arena, &fit.report)[0] == '\0' ? 0 : 1;
        hbk_arena_finish(&arena);
        fitting_close(&f);
    }
    assert_true(odd <= 1);
}

static void a_slide_that_was_pulled_is_asked_after(void **state)
{
    (void)state;
    static struct fitting f;
    struct rng rng = {.state = 3};
    struct hbk_arena arena = {0};
    struct hbk_fit fit;
    double d[HBK_PARAMETERS_MAX] = {0};
    open_sound(&f, &rng, 3.0);
    for (size_t p = 0; p < f.parameters.n; p++) {
        if (strcmp(hbk_parameter_words(&f.parameters, p, &arena),
                   "loop of valve 3") == 0) {
            d[p] = 4.0 * f.parameters.items[p].sd;
        }
    }
    fitting_follow(&f, d, f.true_cents);
    fitting_read(&f, habits_of[0].n_read, 1.0, &rng);
    fitting_fit(&f, &fit, &arena);
    const char *const words = hbk_fit_words_odd(&arena, &fit.report);
    assert_string_equal(words, "The loop of valve 3 comes out longer than is "
                               "likely: was its slide pulled?");
    hbk_arena_finish(&arena);
    fitting_close(&f);
}

/* The notes of the compass are stated the less surely, too. */
static void uncertainty_follows_readings_that_scatter(void **state)
{
    (void)state;
    static struct fitting f;
    struct hbk_arena arena = {0};
    struct hbk_fit sound;
    size_t noticed = 0;
    double scatter = 0.0;
    struct rng quiet = {.state = 5};
    open_sound(&f, &quiet, 3.0);
    fitting_fit(&f, &sound, &arena);
    for (uint64_t seed = 1; seed <= 20; seed++) {
        struct rng rng = {.state = seed};
        struct hbk_fit shaken;
        fitting_read(&f, habits_of[0].n_read, 12.0, &rng);
        fitting_fit(&f, &shaken, &arena);
        scatter += shaken.report.scatter / 20.0;
        if (!shaken.report.is_scattered) {
            continue;
        }
        noticed++;
        assert_true(shaken.report.notes_sd_after >
                    1.05 * sound.report.notes_sd_after);
        assert_true(shaken.report.items[0].alone_sd >
                    sound.report.items[0].alone_sd);
        assert_non_null(strstr(hbk_fit_words_odd(&arena, &shaken.report),
                               "times as far as their uncertainty says"));
    }
    print_message("# noise 12 in place of 3 is noticed in %zu of 20, taken to "
                  "scatter %.1f times as far\n",
                  noticed, scatter);
    assert_true(scatter > 1.7);
    /* Twelve readings tell no more: what is uncertain of partials hides it. */
    assert_true(noticed >= 7);
    hbk_arena_finish(&arena);
    fitting_close(&f);
}

static void another_pitch_is_named(void **state)
{
    (void)state;
    static struct fitting f;
    struct rng rng = {.state = 6};
    struct hbk_arena arena = {0};
    struct hbk_fit fit;
    open_sound(&f, &rng, 3.0);
    const double up = hbk_cents(452.5, f.base.horn.a4_hz);
    for (size_t i = 0; i < f.readings.n; i++) {
        f.items[i].cents += up;
    }
    fitting_fit(&f, &fit, &arena);
    const char *const words = hbk_fit_words_odd(&arena, &fit.report);
    assert_non_null(strstr(words, "sharper than the file has them"));
    assert_non_null(strstr(words, "A = 452.5 Hz"));
    hbk_arena_finish(&arena);
    fitting_close(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_habit_is_not_taken_for_metal_by_length),
        cmocka_unit_test(a_habit_is_not_taken_for_metal_with_a_bore),
        cmocka_unit_test(the_player_has_a_place_of_his_own_in_the_file),
        cmocka_unit_test(nothing_odd_is_said_of_a_horn_that_is_as_its_file),
        cmocka_unit_test(a_slide_that_was_pulled_is_asked_after),
        cmocka_unit_test(uncertainty_follows_readings_that_scatter),
        cmocka_unit_test(another_pitch_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
