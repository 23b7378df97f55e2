#include "support/check.h"

#include "passage/ease.h"

#include <math.h>

/*
 * The measure that scales and parts are judged by. Its figures are the
 * program's own; the order of what is awkward is common practice, no source.
 */
static const double tol_rounding = 1e-9;
static const double quaver_s = 0.25;

static struct hbk_ease_move move_of(unsigned reasons, double need_s)
{
    return (struct hbk_ease_move){reasons, need_s, quaver_s};
}

static double price_of(unsigned reasons, double need_s)
{
    const struct hbk_ease_move move = move_of(reasons, need_s);
    return hbk_ease_move_price(&move);
}

static double hurry_of(double need_s, double available_s)
{
    const struct hbk_ease_move move = {.need_s = need_s,
                                       .available_s = available_s};
    return hbk_ease_hurry(&move);
}

/* Each of these is the last made harder. */
static void hard_moves_cost_more(void **state)
{
    (void)state;
    static const unsigned ladder[] = {HBK_MOVE_MANY,
                                      HBK_MOVE_CROSSED | HBK_MOVE_HANDS,
                                      HBK_MOVE_CROSSED,
                                      HBK_MOVE_CROSSED | HBK_MOVE_WEAK,
                                      HBK_MOVE_CROSSED | HBK_MOVE_UNSTEADY,
                                      HBK_MOVE_JUMPS};
    double last = 0.0;
    for (size_t i = 0; i < sizeof(ladder) / sizeof(ladder[0]); i++) {
        assert_true(price_of(ladder[i], 0.1) > last);
        last = price_of(ladder[i], 0.1);
    }
    assert_true(price_of(HBK_MOVE_JUMPS, 0.2) > last);
    /* A weak finger that only goes down is priced by its time. */
    check_abs(price_of(HBK_MOVE_WEAK, 0.1), hbk_pressed_price(0.1, quaver_s),
              tol_rounding);
}

static void hurry_begins_at_half_of_the_time(void **state)
{
    (void)state;
    check_abs(hurry_of(0.0, 1.0), 0.0, 0.0);
    check_abs(hurry_of(0.5, 1.0), 0.0, 0.0);
    check_abs(hurry_of(0.75, 1.0), 0.5, tol_rounding);
    check_abs(hurry_of(1.0, 1.0), 1.0, 0.0);
    check_abs(hurry_of(3.0, 1.0), 1.0, 0.0);
    check_abs(hurry_of(0.1, 0.0), 1.0, 0.0);
}

static void moves_are_counted_with_what_is_awkward(void **state)
{
    (void)state;
    const struct hbk_ease_move moves[] = {
        move_of(0, 0.1), move_of(HBK_MOVE_WEAK, 0.2),
        move_of(HBK_MOVE_CROSSED, 0.25), move_of(HBK_MOVE_JUMPS, 0.05)};
    struct hbk_ease ease = {0};
    double sum = 0.0;
    check_abs(hbk_ease_mean_price(&ease), 0.0, 0.0);
    for (size_t i = 0; i < 4; i++) {
        hbk_ease_add_move(&ease, &moves[i]);
        sum += hbk_ease_move_price(&moves[i]);
    }
    assert_int_equal(ease.n_moves, 4);
    assert_int_equal(ease.n_awkward, 2);
    check_abs(hbk_ease_mean_price(&ease), sum / 4.0, tol_rounding);
    /* 0.2 s of 0.25 is 0.6 of the way to all of it. */
    check_abs(ease.hurry, 1.6, tol_rounding);
}

/* A closed form: 10 and -20 cents, the second three times as long. */
static void tuning_is_weighed_by_the_time(void **state)
{
    (void)state;
    struct hbk_ease ease = {0};
    assert_true(isnan(hbk_ease_rms_cents(&ease)));
    const struct hbk_fingering high = {.cents = 10.0};
    const struct hbk_fingering low = {.cents = -20.0};
    hbk_ease_add_note(&ease, &high, 1.0, 7);
    hbk_ease_add_note(&ease, &low, 3.0, 9);
    check_abs(hbk_ease_rms_cents(&ease), sqrt(1300.0 / 4.0), tol_rounding);
    /* Of 20 cents 15 are the lip's. */
    check_abs(ease.beyond, 3.0 * 25.0, tol_rounding);
    check_abs(ease.worst_cents, -20.0, 0.0);
    assert_int_equal(ease.worst, 9);
}

/* Of two that lie alike the first is told; a note in tune is one as well. */
static void the_worst_is_the_first_of_equals(void **state)
{
    (void)state;
    struct hbk_ease ease = {0};
    static const double cents[] = {0.0, 12.0, -12.0};
    for (size_t i = 0; i < 3; i++) {
        const struct hbk_fingering f = {.cents = cents[i]};
        hbk_ease_add_note(&ease, &f, 1.0, 4 + i);
        assert_int_equal(ease.worst, i == 0 ? 4 : 5);
    }
}

static void what_needs_care_is_a_share_of_the_time(void **state)
{
    (void)state;
    struct hbk_ease ease = {0};
    check_abs(hbk_ease_care_share(&ease), 0.0, 0.0);
    static const unsigned verdicts[] = {
        HBK_VERDICT_FREE, HBK_VERDICT_CARE | HBK_VERDICT_UNRELIABLE,
        HBK_VERDICT_UNRELIABLE};
    for (size_t i = 0; i < 3; i++) {
        const struct hbk_fingering f = {.verdict = verdicts[i]};
        hbk_ease_add_note(&ease, &f, 1.0 + (double)i, i);
    }
    check_abs(hbk_ease_care_share(&ease), 2.0 / 6.0, tol_rounding);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hard_moves_cost_more),
        cmocka_unit_test(hurry_begins_at_half_of_the_time),
        cmocka_unit_test(moves_are_counted_with_what_is_awkward),
        cmocka_unit_test(tuning_is_weighed_by_the_time),
        cmocka_unit_test(the_worst_is_the_first_of_equals),
        cmocka_unit_test(what_needs_care_is_a_share_of_the_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
