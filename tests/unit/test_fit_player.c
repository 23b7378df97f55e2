/*
 * Metal and habit: who plays is told from what is played, is kept apart in the
 * fitted file, and stands on a chart only when asked.
 */
#include "support/habits.h"

#include "edition/fit.h"
#include "reader/horn_file.h"
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
        with += habit.after_tuned * habit.after_tuned / SEEDS;
        without += none.after_tuned * none.after_tuned / SEEDS;
        nearer += habit.after_tuned < habit.before_tuned ? 1 : 0;
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
    fitting_open(&f, "keyed-bugle-c-6-munich");
    fitting_ask(&f, habits_of[2].notes);
    fitting_build(&f, &rng);
    fitting_read(&f, habits_of[2].n_read, 3.0, &rng);
    for (size_t i = 0; i < f.readings.n; i++) {
        f.items[i].cents += 12.0 * habits_octaves(&f, i);
    }
    fitting_fit(&f, &fit, &arena);
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_habit_is_not_taken_for_metal_by_length),
        cmocka_unit_test(a_habit_is_not_taken_for_metal_with_a_bore),
        cmocka_unit_test(the_player_has_a_place_of_his_own_in_the_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
