/*
 * What a page says whoever plays it: against sums over a fine grid, and a
 * player whose pitch and slope are known.
 */
#include "support/check.h"

#include "fit/trouble_page.h"

enum { N = 9 };

static const double octaves[N] = {-1.13, -0.82, -0.47, -0.11, 0.0,
                                  0.21,  0.43,  0.77,  1.04};
static const double sd[N] = {5.3, 5.3, 7.1, 5.3, 5.3, 11.9, 5.3, 5.3, 5.3};

static double normal(double x, double s)
{
    return exp(-0.5 * (x / s) * (x / s)) / (s * 2.5066282746310002);
}

/* The priors as fit/trouble.h states them, by steps of a fifth of a cent. */
static double brute(const double errors[])
{
    const double step = 0.2;
    double sum = 0.0;
    for (double slope = -60.0; slope < 60.0; slope += step) {
        for (double pitch = -150.0; pitch < 150.0; pitch += step) {
            double here = normal(slope, 10.0) *
                          ((0.9 * normal(pitch, 12.0)) + (0.1 / 300.0));
            for (size_t i = 0; i < N; i++) {
                const double rest = errors[i] - pitch - (slope * octaves[i]);
                here *=
                    (0.98 * normal(rest, sd[i])) + (0.02 * normal(rest, 100.0));
            }
            sum += here * step * step;
        }
    }
    return log(sum);
}

static void ask(const double errors[], double *log_likelihood,
                struct hbk_trouble_played *played)
{
    struct hbk_arena arena = {0};
    const struct hbk_trouble_player player =
        hbk_trouble_player_of(N, octaves, sd, &arena);
    *played = (struct hbk_trouble_played){.log_most = -INFINITY};
    assert_true(
        hbk_trouble_player_ask(&player, errors, played, log_likelihood));
    /* The same once more makes nothing likelier, and is as likely. */
    double again = 0.0;
    assert_false(hbk_trouble_player_ask(&player, errors, played, &again));
    check_abs(again, *log_likelihood, 1e-3);
    hbk_arena_finish(&arena);
}

/* By pitch, by slope, by both, with a slip, astray, and by no player. */
static void the_mean_over_pitch_and_slope_is_found(void **state)
{
    (void)state;
    for (size_t k = 0; k < 6; k++) {
        double errors[N];
        for (size_t i = 0; i < N; i++) {
            const double pitch = k == 0 ? 7.3 : k == 4 ? -81.7 : 0.0;
            const double slope = k == 1 ? -9.3 : k == 2 ? 17.9 : 1.7;
            errors[i] = pitch + (slope * octaves[i]) +
                        (k == 5 ? 43.0 * sin(7.3 * (double)i) : 0.0) +
                        (3.1 * sin(2.9 * (double)(i + k)));
        }
        errors[6] += k == 3 ? 77.0 : 0.0;
        double log_likelihood = 0.0;
        struct hbk_trouble_played played;
        ask(errors, &log_likelihood, &played);
        check_abs(log_likelihood, brute(errors), 0.05);
    }
}

static void the_player_is_found(void **state)
{
    (void)state;
    double errors[N];
    for (size_t i = 0; i < N; i++) {
        errors[i] = 11.7 - (13.1 * octaves[i]);
    }
    errors[2] = 320.0;
    double log_likelihood = 0.0;
    struct hbk_trouble_played played;
    ask(errors, &log_likelihood, &played);
    check_abs(played.pitch_cents, 11.7, 2.0);
    check_abs(played.slope_cents, -13.1, 3.0);
}

/* Two-sided normal tails: 0.05, 0.01, 0.005 at 1.9600, 2.5758, 2.8070. */
static void the_limit_is_one_page_in_twenty(void **state)
{
    (void)state;
    check_abs(hbk_trouble_aside_sd(1), 1.9600, 1e-4);
    check_abs(hbk_trouble_aside_sd(5), 2.5758, 1e-4);
    check_abs(hbk_trouble_aside_sd(10), 2.8070, 1e-4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_mean_over_pitch_and_slope_is_found),
        cmocka_unit_test(the_player_is_found),
        cmocka_unit_test(the_limit_is_one_page_in_twenty),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
