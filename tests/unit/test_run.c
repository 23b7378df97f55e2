#include "support/tunes.h"

/* A few notes typed on the command line, and exact time. */

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static void typed_notes_are_read(void **state)
{
    (void)state;
    static const struct {
        const char *text, *played;
    } cases[] = {
        {"C5 D5 E5:1/8 F5:1/8", "C5 1/4, D5 1/4, E5 1/8, F5 1/8"},
        {"F#4:3/4 Bb3:1/4. r:1/16 r C\xE2\x99\xAF"
         "5:1/8",
         "F#4 3/4, Bb3 3/8, r 1/16, r 1/4, C#5 1/8"},
        {"  C5,D5|(E5 F5:1/8)G5| ", "C5 1/4, D5 1/4, E5 1/4, F5 1/8, G5 1/4"},
        {"C5:1 D5:1/2.. E5. r:1/8..", "C5 1, D5 7/8, E5 3/8, r 7/32"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        assert_int_equal(
            hbk_tune_from_run("run", cases[i].text, &document, &faults),
            HBK_OK);
        assert_int_equal(faults.count, 0);
        assert_string_equal(played_text(&document.tune, &document.arena),
                            cases[i].played);
        hbk_tune_document_finish(&document);
    }
}

static void bars_and_slurs_are_kept(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_from_run("run", "C5 | | (D5 (E5) F5) | G5",
                                       &document, &faults),
                     HBK_OK);
    const struct hbk_tune *const tune = &document.tune;
    assert_int_equal(tune->n_bars, 3);
    assert_string_equal(tune->bars[2].number, "3");
    assert_int_equal(tune->events[1].slur_starts, 1);
    assert_int_equal(tune->events[2].slur_starts, 1);
    assert_int_equal(tune->events[2].slur_stops, 1);
    assert_int_equal(tune->events[3].slur_stops, 1);
    hbk_tune_document_finish(&document);
}

static void slips_are_named(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        unsigned number, column;
    } cases[] = {
        {"", 272, 0},     {" | ", 272, 0},        {"C5 H5", 270, 4},
        {"C", 270, 1},    {"c5", 270, 1},         {"C5 D5:1/0", 271, 6},
        {"C5:", 271, 3},  {"C5:1/99999", 271, 3}, {"C5)", 206, 3},
        {"C5 (", 0, 0},   {"()", 206, 2},         {"r r", 203, 0},
        {"Cb-1", 270, 1}, {"G#9", 270, 1},        {"C5:1/2/2", 270, 7},
        {"C5/4", 271, 3}, {"D5 C5*2", 271, 6},    {"C5:1/4....", 271, 3},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        const enum hbk_status status =
            hbk_tune_from_run("run", cases[i].text, &document, &faults);
        if (cases[i].number == 0) {
            assert_int_equal(status, HBK_OK);
        } else {
            assert_int_equal(status, HBK_ERR_INPUT);
            if (faults.items[0].number != cases[i].number) {
                print_error("run \"%s\"\n", cases[i].text);
                print_faults(&faults);
            }
            assert_int_equal(faults.items[0].number, cases[i].number);
            assert_int_equal(faults.items[0].column, cases[i].column);
        }
        hbk_tune_document_finish(&document);
    }
}

static void ratios_are_exact_or_refused(void **state)
{
    (void)state;
    struct hbk_ratio a;
    struct hbk_ratio b;
    struct hbk_ratio c = hbk_ratio_whole(7);
    assert_true(hbk_ratio_make(-6, -8, &a));
    assert_true(hbk_ratio_equal(a, (struct hbk_ratio){.num = 3, .den = 4}));
    assert_false(hbk_ratio_make(1, 0, &c));
    assert_false(hbk_ratio_make(INT64_MIN, 1, &c));
    assert_true(hbk_ratio_make(1, INT64_C(3037000507), &a));
    assert_true(hbk_ratio_make(1, INT64_C(3037000511), &b));
    assert_false(hbk_ratio_add(a, b, &c)); /* denominators near 2^63 */
    assert_false(hbk_ratio_mul(a, b, &c));
    assert_int_equal(c.num, 7);
    assert_true(hbk_ratio_mul(hbk_ratio_whole(INT64_MAX),
                              (struct hbk_ratio){.num = 2, .den = INT64_MAX},
                              &c));
    assert_true(hbk_ratio_equal(c, hbk_ratio_whole(2)));
    /* Too near each other for doubles or for cross products. */
    const struct hbk_ratio near = {.num = INT64_MAX - 1, .den = INT64_MAX};
    const struct hbk_ratio nearer = {.num = INT64_MAX - 2,
                                     .den = INT64_MAX - 1};
    assert_true(hbk_ratio_compare(near, nearer) > 0);
    assert_true(hbk_ratio_compare(nearer, near) < 0);
    assert_int_equal(hbk_ratio_compare(near, near), 0);
    assert_true(hbk_ratio_compare((struct hbk_ratio){.num = -1, .den = 3},
                                  (struct hbk_ratio){.num = -1, .den = 4}) < 0);
    assert_true(hbk_ratio_parse("-0.375", &a));
    assert_true(hbk_ratio_equal(a, (struct hbk_ratio){.num = -3, .den = 8}));
    static const char *const bad[] = {"",      ".",  "1e3",
                                      "1.2.3", " 1", "12345678901"};
    for (size_t i = 0; i < COUNT(bad); i++) {
        assert_false(hbk_ratio_parse(bad[i], &a));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(typed_notes_are_read),
        cmocka_unit_test(bars_and_slurs_are_kept),
        cmocka_unit_test(slips_are_named),
        cmocka_unit_test(ratios_are_exact_or_refused),
    };
    return cmocka_run_group_tests_name("run", tests, NULL, NULL);
}
