/*
 * Orders: every faulty one of tests/bad_orders gives exactly the messages
 * beside it, and what a sound one says arrives. tests/check_order_schema.py
 * holds the schema to the same files.
 */
#include "support/bad_files.h"

#include "reader/order_file.h"

#include <math.h>

static const double tol_exact = 0.0;

static const char *messages_of(void *ctx, const char *path,
                               struct hbk_arena *arena)
{
    (void)ctx;
    struct hbk_order order;
    struct hbk_faults faults = {0};
    assert_int_equal(hbk_order_read(path, &order, &faults), HBK_ERR_INPUT);
    const char *const lines = lines_of(&faults, arena);
    hbk_order_finish(&order);
    return lines;
}

static void each_bad_order_gives_exactly_its_messages(void **state)
{
    (void)state;
    check_bad_files("tests/bad_orders", 11, messages_of, NULL);
}

static void the_least_order_has_the_usual_values(void **state)
{
    (void)state;
    struct hbk_order order;
    struct hbk_faults faults = {0};
    assert_int_equal(
        hbk_order_read("tests/data/orders/least.yaml", &order, &faults),
        HBK_OK);
    assert_int_equal(faults.count, 0);
    assert_int_equal(order.format, HBK_ORDER_PDF);
    assert_true(isnan(order.dpi));
    assert_int_equal(order.n_players, 1);
    const struct hbk_order_player *const ada = &order.players[0];
    assert_string_equal(ada->name, "Ada");
    assert_string_equal(ada->horn.text, "cornet-b-flat");
    assert_null(ada->knows.text);
    assert_null(ada->crook.text);
    assert_null(ada->stuck.text);
    assert_true(isnan(ada->lip_cents) && !ada->sounding);
    assert_true(isnan(ada->setting.a4_hz) && isnan(ada->setting.room_c));
    assert_true(isnan(ada->setting.temperature_c));
    assert_null(ada->setting.valve_slides);
    assert_null(ada->setting.reads);
    assert_null(ada->setting.names);
    assert_int_equal(ada->n_sheets, 1);
    assert_int_equal(ada->sheets[0].kind, HBK_ORDER_WALL);
    assert_string_equal(ada->sheets[0].paper, "A4");
    assert_null(ada->sheets[0].title);
    hbk_order_finish(&order);
}

static void what_an_order_says_arrives(void **state)
{
    (void)state;
    struct hbk_order order;
    struct hbk_faults faults = {0};
    assert_int_equal(
        hbk_order_read("tests/data/orders/all.yaml", &order, &faults), HBK_OK);
    assert_int_equal(faults.count, 0);
    assert_string_equal(order.band, "Larkmoor Town Band");
    check_abs(order.dpi, 90.0, tol_exact);
    assert_int_equal(order.format, HBK_ORDER_PNG);
    assert_string_equal(hbk_order_format_name(order.format), "png");
    assert_int_equal(order.n_players, 5);
    const struct hbk_order_player *const ada = &order.players[0];
    assert_string_equal(ada->name, "Ada L\u00E4rche");
    assert_string_equal(ada->crook.text, "A");
    assert_string_equal(ada->mouthpiece.text, "own");
    assert_int_equal(ada->crook.place.line, 17);
    assert_string_equal(ada->stuck.text, "valve:2=down");
    assert_string_equal(ada->knows.text, "cornet-b-flat");
    check_abs(ada->lip_cents, 40.0, tol_exact);
    assert_true(ada->sounding);
    assert_int_equal(ada->n_sheets, 1);
    assert_int_equal(ada->sheets[0].kind, HBK_ORDER_TRILLS);
    assert_string_equal(ada->sheets[0].paper, "Letter");
    /* The other has everybody's sheets, and a horn beside the order. */
    const struct hbk_order_player *const seven = &order.players[1];
    assert_string_equal(seven->name, "7");
    assert_string_equal(seven->horn.text,
                        "tests/data/orders/../good/cornet-by-bore.yaml");
    assert_int_equal(seven->n_sheets, 2);
    assert_string_equal(seven->sheets[1].paper, "A5");
    assert_string_equal(seven->sheets[1].title, "For the case");
    hbk_order_finish(&order);
}

/* Of the two temperatures the order has one and a player may have the other. */
static void a_player_is_set_by_their_own_words_first(void **state)
{
    (void)state;
    struct hbk_order order;
    struct hbk_faults faults = {0};
    assert_int_equal(
        hbk_order_read("tests/data/orders/all.yaml", &order, &faults), HBK_OK);
    const struct hbk_order_setting *set = &order.players[0].setting;
    check_abs(set->a4_hz, 452.5, tol_exact);
    check_abs(set->temperature_c, 24.0, tol_exact);
    assert_true(isnan(set->room_c));
    assert_string_equal(set->valve_slides, "best");
    assert_string_equal(set->reads, "concert");
    assert_string_equal(set->names, "solfege");
    assert_false(set->as_played);
    set = &order.players[3].setting;
    check_abs(set->a4_hz, 438.25, tol_exact);
    check_abs(set->temperature_c, 27.5, tol_exact);
    assert_true(isnan(set->room_c));
    assert_string_equal(set->valve_slides, "in");
    assert_string_equal(set->reads, "treble-bflat");
    assert_string_equal(set->names, "german");
    assert_true(set->as_played);
    set = &order.players[4].setting;
    check_abs(set->a4_hz, 452.5, tol_exact);
    assert_true(isnan(set->temperature_c));
    check_abs(set->room_c, 13.0, tol_exact);
    assert_string_equal(set->valve_slides, "best");
    hbk_order_finish(&order);
    assert_int_equal(
        hbk_order_read("tests/data/orders/room.yaml", &order, &faults), HBK_OK);
    set = &order.players[0].setting;
    assert_true(isnan(set->temperature_c) && isnan(set->a4_hz));
    check_abs(set->room_c, 11.5, tol_exact);
    assert_null(set->valve_slides);
    assert_false(set->as_played);
    set = &order.players[1].setting;
    check_abs(set->temperature_c, 21.0, tol_exact);
    assert_true(isnan(set->room_c));
    hbk_order_finish(&order);
}

static void what_an_order_says_of_a_part_arrives(void **state)
{
    (void)state;
    struct hbk_order order;
    struct hbk_faults faults = {0};
    assert_int_equal(
        hbk_order_read("tests/data/orders/all.yaml", &order, &faults), HBK_OK);
    const struct hbk_order_player *const bela = &order.players[2];
    assert_int_equal(bela->n_sheets, 3);
    const struct hbk_order_sheet *const first = &bela->sheets[0];
    assert_int_equal(first->kind, HBK_ORDER_PART);
    assert_string_equal(first->paper, "A5");
    assert_string_equal(first->part.file.text,
                        "tests/data/orders/../galop.abc");
    assert_null(first->part.tune.text);
    assert_null(first->part.bars.text);
    assert_true(isnan(first->part.tempo) && first->part.circles);
    assert_int_equal(first->part.choices, -1);
    const struct hbk_order_sheet *const third = &bela->sheets[2];
    assert_int_equal(third->kind, HBK_ORDER_PRACTICE);
    assert_string_equal(third->part.file.text,
                        "tests/data/orders/../galop.abc");
    assert_int_equal(third->part.choices, 2);
    assert_false(first->part.keep || first->part.only_departures ||
                 first->part.from_sounding);
    const struct hbk_order_sheet *const second = &bela->sheets[1];
    assert_string_equal(second->paper, "Letter");
    assert_string_equal(second->title, "For the march");
    assert_string_equal(second->part.file.text, "/music/book.abc");
    assert_string_equal(second->part.tune.text, "3");
    assert_string_equal(second->part.part.text, "2");
    assert_string_equal(second->part.voice.text, "Cornet II");
    assert_string_equal(second->part.bars.text, "23-26");
    assert_int_equal(second->part.bars.place.line, 35);
    assert_int_equal(second->part.line, 2);
    assert_int_equal(first->part.line, 0);
    check_abs(second->part.tempo, 92.5, tol_exact);
    assert_true(second->part.keep && second->part.only_departures &&
                second->part.from_sounding);
    assert_false(second->part.circles);
    hbk_order_finish(&order);
}

static void what_an_order_says_of_a_primer_arrives(void **state)
{
    (void)state;
    struct hbk_order order;
    struct hbk_faults faults = {0};
    assert_int_equal(
        hbk_order_read("tests/data/orders/all.yaml", &order, &faults), HBK_OK);
    const struct hbk_order_sheet *const sheets = order.players[4].sheets;
    assert_int_equal(order.players[4].n_sheets, 3);
    assert_false(sheets[0].primer.fold || sheets[0].primer.large);
    assert_null(sheets[0].primer.range.text);
    assert_true(sheets[1].primer.fold);
    assert_false(sheets[1].primer.large);
    assert_string_equal(sheets[1].paper, "A5");
    assert_true(sheets[2].primer.large);
    assert_false(sheets[2].primer.fold);
    assert_string_equal(sheets[2].primer.range.text, "C4-G4");
    assert_int_equal(sheets[2].primer.range.place.line, 52);
    hbk_order_finish(&order);
}

static void check_papers(const char *path, const char *const papers[4])
{
    struct hbk_order order;
    struct hbk_faults faults = {0};
    assert_int_equal(hbk_order_read(path, &order, &faults), HBK_OK);
    assert_int_equal(order.players[0].n_sheets, 4);
    for (size_t i = 0; i < 4; i++) {
        assert_string_equal(order.players[0].sheets[i].paper, papers[i]);
    }
    hbk_order_finish(&order);
}

/* A slide card goes into the case, unless the order says on what it prints. */
static void slides_are_a_card_where_no_paper_is_named(void **state)
{
    (void)state;
    static const char *const usual[] = {"A4", "A6", "A6", "A5"};
    static const char *const said[] = {"Letter", "Letter", "Letter", "A5"};
    check_papers("tests/data/orders/papers.yaml", usual);
    check_papers("tests/data/orders/one-paper.yaml", said);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_bad_order_gives_exactly_its_messages),
        cmocka_unit_test(the_least_order_has_the_usual_values),
        cmocka_unit_test(what_an_order_says_arrives),
        cmocka_unit_test(a_player_is_set_by_their_own_words_first),
        cmocka_unit_test(what_an_order_says_of_a_part_arrives),
        cmocka_unit_test(what_an_order_says_of_a_primer_arrives),
        cmocka_unit_test(slides_are_a_card_where_no_paper_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
