#include "support/check.h"

#include "base/dice.h"

/* The first numbers of splitmix64 from 1234567, as its authors' code has them
 * and every table of the generator repeats. */
static void the_numbers_are_those_of_the_published_generator(void **state)
{
    (void)state;
    static const uint64_t published[] = {
        UINT64_C(6457827717110365317), UINT64_C(3203168211198807973),
        UINT64_C(9817491932198370423), UINT64_C(4593380528125082431),
        UINT64_C(16408922859458223821)};
    struct hbk_dice dice = {1234567};
    for (size_t i = 0; i < sizeof(published) / sizeof(published[0]); i++) {
        assert_true(hbk_dice_next(&dice) == published[i]);
    }
}

/* FNV-1a of "foobar" in 64 bits, from its authors' list of test vectors. */
static void a_text_is_hashed_as_published(void **state)
{
    (void)state;
    struct hbk_dice hashed = {UINT64_C(0x85944171f73967e8)};
    const uint64_t first = hbk_dice_next(&hashed);
    assert_true(hbk_dice_for("foobar", 0).state == first);
    assert_true(hbk_dice_for("foobar", 1).state != first);
    assert_true(hbk_dice_for("foobaz", 0).state != first);
}

static void every_side_comes_up_about_as_often(void **state)
{
    (void)state;
    enum { SIDES = 7, THROWS = 70000 };
    struct hbk_dice dice = hbk_dice_for("A bugle", 3);
    unsigned counts[SIDES] = {0};
    for (unsigned i = 0; i < THROWS; i++) {
        const uint32_t side = hbk_dice_below(&dice, SIDES);
        assert_true(side < SIDES);
        counts[side]++;
    }
    /* 10000 each, and five standard deviations of 93 around it. */
    for (size_t i = 0; i < SIDES; i++) {
        assert_in_range(counts[i], 9535, 10465);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_numbers_are_those_of_the_published_generator),
        cmocka_unit_test(a_text_is_hashed_as_published),
        cmocka_unit_test(every_side_comes_up_about_as_often),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
