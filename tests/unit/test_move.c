/*
 * What hands do between two presses. The times are worked out by hand from
 * the constants that move.h gives with their sources; the order of moves is
 * common practice, no source.
 */
#include "support/grip.h"
#include "support/solved.h"

#include "horn/horn.h"
#include "passage/lip.h"
#include "passage/move.h"
#include "passage/move_words.h"
#include "solve/ranking.h"

static const double tol_rounding = 1e-12;

static void keywork_of(const struct hbk_horn *horn, struct hbk_keywork *out)
{
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    hbk_keywork_make(horn, &prices, out);
}

static struct hbk_grip grip_of(const struct hbk_keywork *keywork,
                               const char *label)
{
    uint32_t press = 0;
    struct hbk_grip grip;
    assert_true(hbk_horn_press_parse(keywork->horn, label, &press));
    assert_true(cheapest_grip(keywork, press, &grip));
    return grip;
}

static struct hbk_move move_of(const struct hbk_keywork *keywork,
                               const char *from, const char *to)
{
    const struct hbk_grip a = grip_of(keywork, from);
    const struct hbk_grip b = grip_of(keywork, to);
    return hbk_move_between(keywork, &a, &b);
}

static void check_words(const struct hbk_keywork *keywork, const char *from,
                        const char *to, const char *want)
{
    const struct hbk_grip a = grip_of(keywork, from);
    const struct hbk_grip b = grip_of(keywork, to);
    char words[HBK_MOVE_WORDS_SIZE];
    hbk_move_words(keywork, &a, &b, ~0U, words);
    assert_string_equal(words, want);
}

static void staying_takes_no_time(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "cornet-b-flat");
    struct hbk_keywork keywork;
    keywork_of(&s.horn, &keywork);
    const struct hbk_move move = move_of(&keywork, "1-2", "1-2");
    check_abs(move.least_s, 0.0, 0.0);
    assert_int_equal(move.reasons, 0);
    assert_int_equal(move.held, 3);
    check_words(&keywork, "1-2", "1-2", "");
    solved_close(&s);
}

static void three_valves_cross_and_spread(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "cornet-b-flat");
    struct hbk_keywork keywork;
    keywork_of(&s.horn, &keywork);
    const struct hbk_move down = move_of(&keywork, "0", "1");
    check_abs(down.least_s, 0.065, tol_rounding);
    assert_int_equal(down.fingers_down, 1U << HBK_R_INDEX);
    assert_int_equal(down.reasons, 0);
    check_abs(move_of(&keywork, "1", "0").least_s, 0.071, tol_rounding);
    /* Ring finger up, 16 + 55 * 1.3; crossed 20; a second finger 10. */
    const struct hbk_move crossed = move_of(&keywork, "1-3", "1-2");
    check_abs(crossed.least_s, 0.1175, tol_rounding);
    assert_int_equal(crossed.reasons,
                     HBK_MOVE_CROSSED | HBK_MOVE_WEAK | HBK_MOVE_MANY);
    assert_int_equal(crossed.held, 1);
    /* Three together, and nothing crossed: 16 + 55 * 1.3 + 2 * 10. */
    check_abs(move_of(&keywork, "1-2-3", "0").least_s, 0.1075, tol_rounding);
    check_words(&keywork, "0", "1", "valve 1 down (right index)");
    check_words(&keywork, "1-3", "1-2",
                "valve 3 up as valve 2 goes down (right ring, right middle)");
    check_words(&keywork, "1-2-3", "0",
                "3 fingers move at once; the right ring finger works valve 3");
    solved_close(&s);
}

/* Fingers of a bugle, c. 1820 (National Music Museum 7312). */
static void bugle_keys_know_their_hands(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "keyed-bugle-c-6");
    struct hbk_keywork keywork;
    keywork_of(&s.horn, &keywork);
    const struct hbk_move thumbs = move_of(&keywork, "4", "5");
    assert_int_equal(thumbs.reasons, HBK_MOVE_CROSSED | HBK_MOVE_HANDS |
                                         HBK_MOVE_THUMBS | HBK_MOVE_MANY);
    /* The right thumb against its own hand, which it steadies. */
    assert_int_equal(move_of(&keywork, "3", "4").reasons,
                     HBK_MOVE_CROSSED | HBK_MOVE_UNSTEADY | HBK_MOVE_MANY);
    check_abs(thumbs.least_s,
              0.016 + (0.055 * 1.1) + (0.020 / 1.5) + 0.015 + 0.010,
              tol_rounding);
    check_words(&keywork, "4", "5",
                "two thumbs in turn: key 4 up as key 5 goes down (right thumb, "
                "left thumb)");
    const struct hbk_move within = move_of(&keywork, "5", "6");
    const struct hbk_move between = move_of(&keywork, "3", "6");
    assert_int_equal(within.reasons, HBK_MOVE_CROSSED | HBK_MOVE_MANY);
    assert_int_equal(between.reasons,
                     HBK_MOVE_CROSSED | HBK_MOVE_HANDS | HBK_MOVE_MANY);
    assert_true(between.least_s < within.least_s);
    const struct hbk_move stays = move_of(&keywork, "5", "5-6");
    assert_int_equal(stays.reasons, HBK_MOVE_STAYS);
    check_abs(stays.least_s, 0.065, tol_rounding);
    check_words(&keywork, "5", "5-6",
                "key 6 down (left index); key 5 stays open");
    /* A key above is no lower key. */
    assert_int_equal(move_of(&keywork, "6", "5-6").reasons, 0);
    solved_close(&s);
}

static void one_finger_for_two_keys_jumps(void **state)
{
    (void)state;
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    horn.n_controls = 3;
    horn.controls[0] = (struct hbk_control){
        .kind = HBK_KEY, .name = "6", .n_fingers = 1, .fingers = {HBK_L_INDEX}};
    horn.controls[1] = (struct hbk_control){
        .kind = HBK_KEY, .name = "7", .n_fingers = 1, .fingers = {HBK_L_INDEX}};
    horn.controls[2] =
        (struct hbk_control){.kind = HBK_VALVE,
                             .name = "1",
                             .n_fingers = 2,
                             .fingers = {HBK_R_INDEX, HBK_L_INDEX},
                             .stroke_m = NAN,
                             .action = HBK_ACTION_EARLY_PISTON};
    struct hbk_keywork keywork;
    keywork_of(&horn, &keywork);
    struct hbk_grip from;
    struct hbk_grip to;
    assert_true(cheapest_grip(&keywork, 1, &from));
    assert_true(cheapest_grip(&keywork, 2, &to));
    const struct hbk_move jump = hbk_move_between(&keywork, &from, &to);
    assert_int_equal(jump.reasons, HBK_MOVE_JUMPS);
    assert_int_equal(jump.fingers_jump, 1U << HBK_L_INDEX);
    check_abs(jump.least_s, 1.5 * (0.071 + 0.065), tol_rounding);
    char words[HBK_MOVE_WORDS_SIZE];
    hbk_move_words(&keywork, &from, &to, ~0U, words);
    assert_string_equal(words,
                        "the left index finger jumps from key 6 to key 7");
    /* One finger cannot be on both keys. */
    assert_false(cheapest_grip(&keywork, 3, &to));
    /* A long stroke costs the same share as any other slowness. */
    assert_true(cheapest_grip(&keywork, 0, &from));
    assert_true(cheapest_grip(&keywork, 4, &to));
    const struct hbk_move slow = hbk_move_between(&keywork, &from, &to);
    assert_int_equal(slow.reasons, HBK_MOVE_LONG_STROKE);
    check_abs(slow.least_s, 0.010 + (0.055 * 1.25), tol_rounding);
    hbk_move_words(&keywork, &from, &to, ~0U, words);
    assert_string_equal(words, "valve 1 is slow");
    hbk_horn_finish(&horn);
}

/*
 * The touch of F sharp lies under the right thumb or the little finger (a
 * museum's record of an eleven-key ophicleide gives both; see the horn's
 * file): from E, which the thumb holds, the little finger takes it.
 */
static void fingers_are_chosen_over_the_move(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "ophicleide-c-11");
    struct hbk_keywork keywork;
    keywork_of(&s.horn, &keywork);
    struct hbk_grips rest, low, high;
    uint32_t press = 0;
    assert_true(hbk_horn_press_parse(&s.horn, "5", &press));
    assert_true(hbk_grips_make(&keywork, press, &low));
    assert_int_equal(low.n, 1);
    assert_true(hbk_horn_press_parse(&s.horn, "7", &press));
    assert_true(hbk_grips_make(&keywork, press, &high));
    assert_int_equal(high.n, 2);
    assert_true(hbk_grips_make(&keywork, 0, &rest));
    const struct hbk_passing up = hbk_move_choose(&keywork, &low, &high);
    assert_int_equal(up.move.reasons & HBK_MOVE_JUMPS, 0);
    assert_int_equal(up.move.fingers_up, 1U << HBK_R_THUMB);
    assert_int_equal(up.move.fingers_down, 1U << HBK_R_LITTLE);
    const struct hbk_passing down = hbk_move_choose(&keywork, &high, &low);
    assert_ptr_equal(down.from, up.to);
    /* With nothing to leave, the quicker finger takes it. */
    const struct hbk_passing alone = hbk_move_choose(&keywork, &rest, &high);
    assert_int_equal(alone.move.fingers_down, 1U << HBK_R_THUMB);
    char words[HBK_MOVE_WORDS_SIZE];
    hbk_passing_words(&keywork, &low, &high, ~0U, words);
    assert_non_null(strstr(words, "key 5 up as"));
    assert_null(strstr(words, "jumps"));
    /* No pair of the two has a quicker way. */
    for (size_t i = 0; i < high.n; i++) {
        assert_true(
            hbk_move_between(&keywork, &low.of[0], &high.of[i]).least_s >=
            up.move.least_s);
    }
    solved_close(&s);
}

/* What a jumping finger does is said once. */
static void a_jump_of_a_weak_finger_is_told_once(void **state)
{
    (void)state;
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    horn.n_controls = 2;
    horn.controls[0] = (struct hbk_control){
        .kind = HBK_KEY, .name = "2", .n_fingers = 1, .fingers = {HBK_R_RING}};
    horn.controls[1] = (struct hbk_control){
        .kind = HBK_KEY, .name = "3", .n_fingers = 1, .fingers = {HBK_R_RING}};
    struct hbk_keywork keywork;
    keywork_of(&horn, &keywork);
    char words[HBK_MOVE_WORDS_SIZE];
    hbk_presses_words(&keywork, 1, 2, ~0U, words);
    assert_non_null(strstr(words, "jumps from key 2 to key 3"));
    assert_null(strchr(words, ';'));
    /* Nor are words found for what the hands cannot do. */
    assert_string_equal(hbk_presses_words(&keywork, 1, 3, ~0U, words), "");
    hbk_horn_finish(&horn);
}

/* That a key stays open is no reason to call two fingers awkward. */
static void two_fingers_together_are_named(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "keyed-bugle-c-6");
    struct hbk_keywork keywork;
    keywork_of(&s.horn, &keywork);
    const struct hbk_move move = move_of(&keywork, "4", "4-5-6");
    assert_int_equal(move.reasons, HBK_MOVE_MANY | HBK_MOVE_STAYS);
    const struct hbk_grip from = grip_of(&keywork, "4");
    const struct hbk_grip to = grip_of(&keywork, "4-5-6");
    char words[HBK_MOVE_WORDS_SIZE];
    hbk_move_words(&keywork, &from, &to, ~0U, words);
    assert_non_null(strstr(words, "key 5 down"));
    assert_non_null(strstr(words, "key 6 down"));
    assert_null(strstr(words, "open"));
    solved_close(&s);
}

/* A held key whose usual finger is wanted elsewhere. */
static void a_held_key_may_change_its_finger(void **state)
{
    (void)state;
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    horn.n_controls = 2;
    horn.controls[0] =
        (struct hbk_control){.kind = HBK_KEY,
                             .name = "1",
                             .n_fingers = 2,
                             .fingers = {HBK_R_THUMB, HBK_R_LITTLE}};
    horn.controls[1] = (struct hbk_control){
        .kind = HBK_KEY, .name = "2", .n_fingers = 1, .fingers = {HBK_R_THUMB}};
    struct hbk_keywork keywork;
    keywork_of(&horn, &keywork);
    struct hbk_grip from;
    struct hbk_grip to;
    assert_true(cheapest_grip(&keywork, 1, &from));
    assert_true(cheapest_grip(&keywork, 3, &to));
    const struct hbk_move move = hbk_move_between(&keywork, &from, &to);
    assert_int_equal(move.reasons & HBK_MOVE_SWAPS, HBK_MOVE_SWAPS);
    assert_int_equal(move.held, 1);
    char words[HBK_MOVE_WORDS_SIZE];
    hbk_move_words(&keywork, &from, &to, HBK_MOVE_SWAPS, words);
    assert_string_equal(
        words, "change fingers on key 1 (right thumb to right little)");
    hbk_horn_finish(&horn);
}

/* Hole diameters from the museum's record (see the horn's file). */
static void large_pads_are_slow(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "keyed-bugle-c-6-munich");
    struct hbk_keywork keywork;
    keywork_of(&s.horn, &keywork);
    const struct hbk_move low = move_of(&keywork, "0", "1");
    assert_int_equal(low.reasons & HBK_MOVE_LARGE_PAD, HBK_MOVE_LARGE_PAD);
    assert_true(keywork.pad_m[0] > keywork.pad_m[5]);
    assert_true(keywork.slow[0] > keywork.slow[5]);
    assert_true(keywork.height[5] > keywork.height[4]);
    solved_close(&s);
}

static void pressure_grows_faster_than_the_tempo(void **state)
{
    (void)state;
    check_abs(hbk_pressed_price(0.07, 0.07), HBK_PRICE_PRESSED, 1e-9);
    check_abs(hbk_pressed_price(0.07, 0.7), 10.0, 1e-9);
    check_abs(hbk_pressed_price(0.06, 0.03), 16.0 * HBK_PRICE_PRESSED, 1e-9);
    check_abs(hbk_pressed_price(0.0, 0.0), 0.0, 0.0);
    assert_true(isfinite(hbk_pressed_price(0.2, 0.0)));
}

static void the_lip_counts_partials(void **state)
{
    (void)state;
    check_abs(hbk_lip_least_s(6, 6), 0.0, 0.0);
    /* One standard deviation slower than the mean; source in lip.h. */
    check_abs(hbk_lip_least_s(5, 6), 60.0 / (4.0 * (178.3 - 24.7)), 0.0005);
    check_abs(hbk_lip_least_s(8, 4), 0.098 + (3 * 0.015), tol_rounding);
    check_abs(hbk_lip_trill_s(6, 6), 0.0, 0.0);
    check_abs(hbk_lip_trill_s(8, 9), 60.0 / (4.0 * 178.3), 0.0005);
    check_abs(hbk_lip_heard(0.3), 0.75, tol_rounding);
    check_abs(hbk_lip_heard(-1.0), 0.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(staying_takes_no_time),
        cmocka_unit_test(three_valves_cross_and_spread),
        cmocka_unit_test(bugle_keys_know_their_hands),
        cmocka_unit_test(one_finger_for_two_keys_jumps),
        cmocka_unit_test(fingers_are_chosen_over_the_move),
        cmocka_unit_test(a_jump_of_a_weak_finger_is_told_once),
        cmocka_unit_test(two_fingers_together_are_named),
        cmocka_unit_test(a_held_key_may_change_its_finger),
        cmocka_unit_test(large_pads_are_slow),
        cmocka_unit_test(pressure_grows_faster_than_the_tempo),
        cmocka_unit_test(the_lip_counts_partials),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
