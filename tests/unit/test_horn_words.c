/* Which horns a word names, and what a file says it is. */
#include "support/check.h"

#include "reader/file_kind.h"
#include "reader/horn_words.h"

#include <string.h>

static void a_word_names_a_horn_or_the_horns_of_a_folder(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_horn_words list = {.arena = &arena};
    assert_true(hbk_horn_words_add(&list, "cornet-b-flat", &faults));
    assert_true(hbk_horn_words_add(&list, "no/such.yaml", &faults));
    assert_int_equal(list.n, 2);
    assert_string_equal(list.words[0], "cornet-b-flat");
    assert_string_equal(list.words[1], "no/such.yaml");
    assert_true(hbk_horn_words_add(&list, "tests/data/good/", &faults));
    assert_int_equal(faults.count, 0);
    assert_true(list.n > 12);
    assert_string_equal(list.words[2], "tests/data/good/all-stated.yaml");
    for (size_t i = 3; i < list.n; i++) {
        assert_true(strcmp(list.words[i - 1], list.words[i]) < 0);
    }
    hbk_arena_finish(&arena);
}

/* Each is passed over with a line; then nothing is left. */
static void readings_and_orders_are_no_horns(void **state)
{
    (void)state;
    static const struct {
        const char *folder, *kind;
    } cases[] = {{"tests/data/readings", "holds readings and no horn"},
                 {"tests/data/orders", "holds an order and no horn"}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct hbk_arena arena = {0};
        struct hbk_faults faults = {0};
        struct hbk_horn_words list = {.arena = &arena};
        assert_false(hbk_horn_words_add(&list, cases[i].folder, &faults));
        assert_int_equal(list.n, 0);
        assert_int_equal(faults.errors, 1);
        assert_true(faults.count > 1);
        size_t told = 0;
        for (size_t k = 0; k < faults.count; k++) {
            told += strstr(faults.items[k].text, cases[i].kind) != NULL;
        }
        assert_int_equal(told, faults.count - 1);
        hbk_arena_finish(&arena);
    }
}

static void a_file_says_what_it_is(void **state)
{
    (void)state;
    assert_int_equal(hbk_peek_kind("tests/data/good/minimal.yaml"),
                     HBK_FILE_HORN);
    assert_int_equal(hbk_peek_kind("tests/data/readings/ophicleide.yaml"),
                     HBK_FILE_READINGS);
    assert_int_equal(hbk_peek_kind("charts/larkmoor.yaml"), HBK_FILE_ORDER);
    assert_int_equal(hbk_peek_kind("tests/data/tunes.abc"), HBK_FILE_OTHER);
    assert_int_equal(hbk_peek_kind("no/such.yaml"), HBK_FILE_OTHER);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_word_names_a_horn_or_the_horns_of_a_folder),
        cmocka_unit_test(readings_and_orders_are_no_horns),
        cmocka_unit_test(a_file_says_what_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
