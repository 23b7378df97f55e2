#include "support/tunes.h"

#include "base/file.h"

/*
 * The cases of tests/reference/abc_cases.json: our own strings, what they
 * mean worked out from the ABC 2.1 text (section in each case); all but one
 * also agree with the MIDI that an independent program made of them.
 */

struct one_case {
    const char *id, *abc, *expect;
};

/* The value of the string called `key` after `from`; JSON escapes undone. */
static const char *json_string(const char **from, const char *key,
                               struct hbk_arena *arena)
{
    const char *const name = hbk_arena_printf(arena, "\"%s\": \"", key);
    const char *at = strstr(*from, name);
    if (at == NULL) {
        return NULL;
    }
    at += strlen(name);
    struct hbk_text out = {.arena = arena};
    while (*at != '"') {
        char c = *at++;
        if (c == '\\') {
            const char escape = *at++;
            c = escape == 'n' ? '\n' : escape == 'r' ? '\r' : escape;
            assert_true(strchr("nr\"\\/", escape) != NULL);
        }
        hbk_text_put(&out, &c, 1);
    }
    *from = at;
    return hbk_text_string(&out);
}

static bool next_case(const char **from, struct one_case *next,
                      struct hbk_arena *arena)
{
    next->id = json_string(from, "id", arena);
    if (next->id == NULL) {
        return false;
    }
    next->abc = json_string(from, "abc", arena);
    next->expect = json_string(from, "expect", arena);
    return true;
}

static void try_case(const struct one_case *one)
{
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const enum hbk_status status = hbk_tune_read_bytes(
        one->id, one->abc, strlen(one->abc), NULL, &document, &faults);
    if (status != HBK_OK) {
        print_faults(&faults);
    }
    assert_int_equal(status, HBK_OK);
    struct hbk_arena arena = {.newest = NULL};
    const char *const got = played_text(&document.tune, &arena);
    if (strcmp(got, one->expect) != 0) {
        print_error("case %s\n", one->id);
    }
    assert_string_equal(got, one->expect);
    hbk_arena_finish(&arena);
    hbk_tune_document_finish(&document);
}

static void every_case_reads_as_it_should(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_faults faults = {.count = 0};
    char *bytes = NULL;
    size_t length = 0;
    assert_int_equal(hbk_file_read("tests/reference/abc_cases.json", 100000,
                                   &arena, &bytes, &length, &faults),
                     HBK_OK);
    const char *at = bytes;
    struct one_case one;
    size_t n = 0;
    while (next_case(&at, &one, &arena)) {
        try_case(&one);
        n++;
    }
    assert_int_equal(n, 30);
    hbk_arena_finish(&arena);
}

/* The case "clef8", and "transp": both views of the model. */
static void written_and_sounding_are_kept_apart(void **state)
{
    (void)state;
    static const struct {
        const char *key;
        int transpose;
    } cases[] = {{"K:C clef=treble-8", -12},
                 {"K:C transpose=-2", -2},
                 {"K:C treble+8 t=3", 15},
                 {"K:C", 0}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        char text[100];
        (void)snprintf(text, sizeof(text), "X:1\nT:t\nM:4/4\nL:1/8\n%s\nC D|\n",
                       cases[i].key);
        read_good("t.abc", text, &document, &faults);
        assert_int_equal(document.tune.events[0].note, 60);
        assert_int_equal(document.tune.transpose, cases[i].transpose);
        hbk_tune_document_finish(&document);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_case_reads_as_it_should),
        cmocka_unit_test(written_and_sounding_are_kept_apart),
    };
    return cmocka_run_group_tests_name("abc_cases", tests, NULL, NULL);
}
