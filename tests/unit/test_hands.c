#include "support/check.h"

#include "base/arena.h"
#include "horn/about.h"
#include "horn/hands.h"
#include "horn/horn.h"
#include "horn/press.h"

#include <string.h>

static const struct hbk_finger_prices even = {
    .of = {1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0}};

static void add_key(struct hbk_horn *horn, enum hbk_finger usual, int other)
{
    static const char *const names[] = {
        "1",  "2",  "3",  "4",  "5",  "6",  "7",  "8",  "9",  "10", "11",
        "12", "13", "14", "15", "16", "17", "18", "19", "20", "21", "22",
        "23", "24", "25", "26", "27", "28", "29", "30", "31", "32"};
    struct hbk_control *const key = &horn->controls[horn->n_controls];
    *key = (struct hbk_control){.kind = HBK_KEY,
                                .name = names[horn->n_controls],
                                .n_fingers = other < 0 ? 1 : 2,
                                .fingers = {usual}};
    if (other >= 0) {
        key->fingers[1] = (enum hbk_finger)other;
    }
    horn->n_controls++;
}

static size_t count(const struct hbk_horn *horn, uint32_t usable)
{
    struct hbk_arena arena = {0};
    uint32_t *presses = NULL;
    const size_t n = hbk_hands_presses(horn, usable, HBK_FINGER_COUNT, 1 << 22,
                                       &arena, &presses);
    for (size_t i = 1; i < n; i++) {
        assert_true(presses[i - 1] < presses[i]); /* each once, in order */
    }
    assert_int_equal(presses[0], 0);
    hbk_arena_finish(&arena);
    return n;
}

static void free_fingers_make_every_press(void **state)
{
    (void)state;
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    for (int i = 0; i < 7; i++) {
        add_key(&horn, (enum hbk_finger)i, -1);
    }
    assert_int_equal(count(&horn, UINT32_MAX), 128);
    assert_int_equal(count(&horn, 0x15), 8);
}

static void one_finger_works_one_key_at_a_time(void **state)
{
    (void)state;
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    add_key(&horn, HBK_L_INDEX, -1);
    add_key(&horn, HBK_L_INDEX, -1);
    add_key(&horn, HBK_L_INDEX, -1);
    assert_int_equal(count(&horn, UINT32_MAX), 4);
}

/* Which finger takes which has to be worked out, not taken as it comes. */
static void an_alternative_finger_frees_the_first(void **state)
{
    (void)state;
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    add_key(&horn, HBK_R_THUMB, HBK_R_LITTLE);
    add_key(&horn, HBK_R_LITTLE, -1);
    add_key(&horn, HBK_R_THUMB, -1);
    assert_int_equal(count(&horn, UINT32_MAX), 7); /* not all three */
    enum hbk_finger of[HBK_CONTROLS_MAX];
    double price = -1.0;
    assert_true(hbk_hands_assign(&horn, 5, &even, of, &price));
    assert_int_equal(of[0], HBK_R_LITTLE);
    assert_int_equal(of[2], HBK_R_THUMB);
    check_abs(price, 2.0, 1e-12);
    assert_true(hbk_hands_assign(&horn, 1, &even, of, &price));
    assert_int_equal(of[0], HBK_R_THUMB); /* the usual finger first */
    price = -1.0;
    assert_false(hbk_hands_assign(&horn, 7, &even, of, &price));
    check_abs(price, -1.0, 0.0);
}

static void the_cheaper_finger_is_taken(void **state)
{
    (void)state;
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    add_key(&horn, HBK_R_RING, HBK_R_MIDDLE);
    struct hbk_finger_prices prices = even;
    prices.of[HBK_R_RING] = 1.7;
    enum hbk_finger of[HBK_CONTROLS_MAX];
    double price = 0.0;
    assert_true(hbk_hands_assign(&horn, 1, &prices, of, &price));
    assert_int_equal(of[0], HBK_R_MIDDLE);
}

/*
 * Thirty keys, three to a finger: 4 states for each of ten fingers, and the
 * subsets of thirty keys are never gone through.
 */
/* Counted by hand: two keys, three fingers, no finger twice. */
static void every_assignment_is_listed_by_its_price(void **state)
{
    (void)state;
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    add_key(&horn, HBK_R_THUMB, HBK_R_LITTLE);
    add_key(&horn, HBK_R_THUMB, HBK_R_INDEX);
    struct hbk_finger_prices prices = even;
    prices.of[HBK_R_THUMB] = 2.0;
    prices.of[HBK_R_LITTLE] = 3.0;
    struct hbk_assignment all[4];
    assert_int_equal(hbk_hands_assign_all(&horn, 3, &prices, 4, all), 3);
    check_abs(all[0].price, 3.0, 0.0); /* thumb, index */
    check_abs(all[1].price, 4.0, 0.0); /* little, index */
    check_abs(all[2].price, 5.0, 0.0); /* little, thumb */
    assert_int_equal(all[0].finger_of[0], HBK_R_THUMB);
    assert_int_equal(all[1].finger_of[1], HBK_R_INDEX);
    assert_int_equal(all[2].finger_of[1], HBK_R_THUMB);
    /* The cheapest stay where there is no room for all. */
    assert_int_equal(hbk_hands_assign_all(&horn, 3, &prices, 2, all), 2);
    check_abs(all[1].price, 4.0, 0.0);
    /* Of equal ones the fingers named first. */
    assert_int_equal(hbk_hands_assign_all(&horn, 1, &even, 4, all), 2);
    assert_int_equal(all[0].finger_of[0], HBK_R_THUMB);
    hbk_horn_finish(&horn);
}

static void thirty_keys_are_not_a_billion_subsets(void **state)
{
    (void)state;
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    for (int i = 0; i < 30; i++) {
        add_key(&horn, (enum hbk_finger)(i % HBK_FINGER_COUNT), -1);
    }
    assert_int_equal(count(&horn, UINT32_MAX), 1 << 20);
}

static void the_limit_stops_the_count(void **state)
{
    (void)state;
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    for (int i = 0; i < 8; i++) {
        add_key(&horn, (enum hbk_finger)i, -1);
    }
    struct hbk_arena arena = {0};
    uint32_t *presses = NULL;
    assert_int_equal(
        hbk_hands_presses(&horn, UINT32_MAX, 10, 100, &arena, &presses), 101);
    /* 1 + 8 + 28 with at most two fingers. */
    assert_int_equal(
        hbk_hands_presses(&horn, UINT32_MAX, 2, 100, &arena, &presses), 37);
    hbk_arena_finish(&arena);
}

static void a_lone_control_is_pressed_alone(void **state)
{
    (void)state;
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    add_key(&horn, HBK_R_INDEX, -1);
    add_key(&horn, HBK_R_MIDDLE, -1);
    add_key(&horn, HBK_R_RING, -1);
    horn.controls[1].alone = true;
    assert_int_equal(count(&horn, UINT32_MAX), 5); /* 0 1 3 13 and 2 */
}

static void labels_are_read_back(void **state)
{
    (void)state;
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    for (int i = 0; i < 4; i++) {
        add_key(&horn, (enum hbk_finger)i, -1);
    }
    char label[HBK_LABEL_SIZE];
    for (uint32_t press = 0; press < 16; press++) {
        uint32_t read = 99;
        hbk_horn_press_label(&horn, press, label);
        assert_true(hbk_horn_press_parse(&horn, label, &read));
        assert_int_equal(read, press);
    }
    assert_string_equal(hbk_horn_press_label(&horn, 0, label), "0");
    assert_string_equal(hbk_horn_press_label(&horn, 5, label), "1-3");
    horn.controls[2].kind = HBK_VALVE;
    assert_string_equal(hbk_horn_press_label(&horn, 5, label), "k1-v3");
    uint32_t press = 99;
    static const char *const slips[] = {"", "1", "k1-", "k1-k1", "v9", "k1 v3"};
    for (size_t i = 0; i < sizeof(slips) / sizeof(slips[0]); i++) {
        assert_false(hbk_horn_press_parse(&horn, slips[i], &press));
        assert_int_equal(press, 99);
    }
}

static void a_site_leaves_rest_for_any_whole_term(void **state)
{
    (void)state;
    const struct hbk_site loop = {
        .kind = HBK_LOOP, .n_terms = 2, .terms = {0x9, 0x4}};
    assert_false(hbk_site_state(&loop, 0));
    assert_false(hbk_site_state(&loop, 0x1));
    assert_true(hbk_site_state(&loop, 0xB));
    assert_true(hbk_site_state(&loop, 0x4));
    const struct hbk_site standing = {
        .kind = HBK_HOLE, .at_rest = true, .n_terms = 1, .terms = {0x2}};
    assert_true(hbk_site_state(&standing, 0x1));
    assert_false(hbk_site_state(&standing, 0x3));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(free_fingers_make_every_press),
        cmocka_unit_test(one_finger_works_one_key_at_a_time),
        cmocka_unit_test(an_alternative_finger_frees_the_first),
        cmocka_unit_test(the_cheaper_finger_is_taken),
        cmocka_unit_test(every_assignment_is_listed_by_its_price),
        cmocka_unit_test(thirty_keys_are_not_a_billion_subsets),
        cmocka_unit_test(the_limit_stops_the_count),
        cmocka_unit_test(a_lone_control_is_pressed_alone),
        cmocka_unit_test(labels_are_read_back),
        cmocka_unit_test(a_site_leaves_rest_for_any_whole_term),
    };
    return cmocka_run_group_tests_name("hands", tests, NULL, NULL);
}
