/*
 * Orders: every faulty one of tests/bad_orders gives exactly the messages
 * beside it, and what a sound one says arrives. tests/check_order_schema.py
 * holds the schema to the same files.
 */
#include "support/check.h"

#include "base/file.h"
#include "base/text.h"
#include "reader/order_file.h"

#include <dirent.h>
#include <math.h>
#include <string.h>

static const char folder[] = "tests/bad_orders";

static const double tol_exact = 0.0;

static const char *messages_of(const char *path, struct hbk_arena *arena)
{
    struct hbk_order order;
    struct hbk_faults faults = {0};
    struct hbk_text text = {.arena = arena};
    assert_int_equal(hbk_order_read(path, &order, &faults), HBK_ERR_INPUT);
    for (size_t i = 0; i < faults.count; i++) {
        char line[1024];
        hbk_fault_format(&faults.items[i], line, sizeof(line));
        hbk_text_addf(&text, "%s\n", line);
    }
    hbk_order_finish(&order);
    return hbk_text_string(&text);
}

static void each_bad_order_gives_exactly_its_messages(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    DIR *const dir = opendir(folder);
    assert_non_null(dir);
    for (const struct dirent *e = readdir(dir); e != NULL; e = readdir(dir)) {
        const char *const dot = strrchr(e->d_name, '.');
        if (dot == NULL || strcmp(dot, ".yaml") != 0) {
            continue;
        }
        const int length = (int)(dot - e->d_name);
        char *want = NULL;
        size_t size = 0;
        struct hbk_faults faults = {0};
        const char *const path =
            hbk_arena_printf(&arena, "%s/%s", folder, e->d_name);
        const char *const err =
            hbk_arena_printf(&arena, "%s/%.*s.err", folder, length, e->d_name);
        assert_int_equal(
            hbk_file_read(err, 100000, &arena, &want, &size, &faults), HBK_OK);
        assert_string_equal(messages_of(path, &arena), want);
        n++;
    }
    (void)closedir(dir);
    assert_true(n >= 5);
    hbk_arena_finish(&arena);
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
    assert_string_equal(order.format, "pdf");
    assert_true(isnan(order.a4_hz) && isnan(order.temperature_c));
    assert_true(isnan(order.dpi));
    assert_int_equal(order.n_players, 1);
    const struct hbk_order_player *const ada = &order.players[0];
    assert_string_equal(ada->name, "Ada");
    assert_string_equal(ada->horn.text, "cornet-b-flat");
    assert_null(ada->knows.text);
    assert_null(ada->crook.text);
    assert_null(ada->stuck.text);
    assert_true(isnan(ada->lip_cents) && !ada->sounding);
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
    check_abs(order.a4_hz, 452.5, tol_exact);
    check_abs(order.temperature_c, 24.0, tol_exact);
    check_abs(order.dpi, 90.0, tol_exact);
    assert_string_equal(order.format, "png");
    assert_int_equal(order.n_players, 2);
    const struct hbk_order_player *const ada = &order.players[0];
    assert_string_equal(ada->name, "Ada L\u00E4rche");
    assert_string_equal(ada->crook.text, "A");
    assert_int_equal(ada->crook.place.line, 13);
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_bad_order_gives_exactly_its_messages),
        cmocka_unit_test(the_least_order_has_the_usual_values),
        cmocka_unit_test(what_an_order_says_arrives),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
