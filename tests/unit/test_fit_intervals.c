/*
 * Stated uncertainties come true: a short run of tests/bench/bench_intervals.c.
 */
#include "support/intervals.h"

/* Of notes within one sigma; 68 % if everything is as it is taken to be. */
static const double least = 0.60, most = 0.76;

static double share_of(const struct intervals *run)
{
    const struct intervals_found found = intervals_run(run);
    print_message("# %s, noise %.0f stated as %.0f, errors %s, habit %.0f: "
                  "%.1f %% of %zu\n",
                  run->of->horn, run->noise_cents, run->stated_cents,
                  run->is_outside ? "outside" : "within", run->habit_cents,
                  100.0 * intervals_share(&found), found.n);
    assert_true(found.n > 100);
    return intervals_share(&found);
}

/* By length a fit is quick: all there is. */
static void one_sigma_holds_by_length(void **state)
{
    (void)state;
    static const double noises[][2] = {{3.0, 3.0}, {8.0, 8.0}, {8.0, 3.0}};
    for (int i = 0; i < 12; i++) {
        const struct intervals run = {.of = &habits_of[0],
                                      .habit_cents = i % 2 == 0 ? 0.0 : 10.0,
                                      .noise_cents = noises[i / 4][0],
                                      .stated_cents = noises[i / 4][1],
                                      .is_outside = i / 2 % 2 == 1,
                                      .n_horns = 200};
        const double share = share_of(&run);
        assert_true(share > least && share < most);
    }
}

/* A few horns of each: the mean of them all. */
static void one_sigma_holds_with_a_bore(void **state)
{
    (void)state;
    double sum = 0.0;
    for (int i = 0; i < 4; i++) {
        const struct intervals run = {.of = &habits_of[i < 2 ? 1 : 2],
                                      .habit_cents = 10.0,
                                      .noise_cents = i % 2 == 0 ? 3.0 : 8.0,
                                      .stated_cents = 3.0,
                                      .is_outside = true,
                                      .n_horns = 20};
        sum += share_of(&run) / 4.0;
    }
    assert_true(sum > least && sum < most);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_sigma_holds_by_length),
        cmocka_unit_test(one_sigma_holds_with_a_bore),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
