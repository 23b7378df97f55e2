/*
 * Every faulty file of tests/bad gives exactly the messages beside it, and
 * every message of the reader is given by one of them.
 */
#include "support/check.h"

#include "base/file.h"
#include "base/text.h"
#include "reader/horn_file.h"
#include "reader/messages.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char folder[] = "tests/bad";

enum { NUMBERS = 1000 };

static int by_text(const void *a, const void *b)
{
    const char *const *const first = a;
    const char *const *const second = b;
    return strcmp(*first, *second);
}

/* The names without ending of the files in tests/bad, sorted. */
static size_t bad_files(struct hbk_arena *arena, const char **names,
                        size_t room)
{
    size_t n = 0;
    DIR *const dir = opendir(folder);
    assert_non_null(dir);
    for (const struct dirent *e = readdir(dir); e != NULL; e = readdir(dir)) {
        const char *const dot = strrchr(e->d_name, '.');
        if (dot != NULL && strcmp(dot, ".yaml") == 0) {
            assert_true(n < room);
            names[n++] =
                hbk_arena_copy(arena, e->d_name, (size_t)(dot - e->d_name));
        }
    }
    (void)closedir(dir);
    qsort(names, n, sizeof(*names), by_text);
    return n;
}

static const char *messages_of(const char *path, struct hbk_arena *arena,
                               bool seen[NUMBERS])
{
    struct hbk_horn horn;
    struct hbk_faults faults = {0};
    struct hbk_text text = {.arena = arena};
    const enum hbk_status status = hbk_horn_read(path, &horn, &faults);
    if (status != HBK_ERR_INPUT || faults.errors == 0) {
        fail_msg("%s is not refused", path);
    }
    for (size_t i = 0; i < faults.count; i++) {
        char line[1024];
        hbk_fault_format(&faults.items[i], line, sizeof(line));
        hbk_text_addf(&text, "%s\n", line);
        seen[faults.items[i].number] = true;
    }
    /* A refused horn is empty. */
    assert_int_equal(horn.n_controls, 0);
    assert_int_equal(horn.n_sites, 0);
    assert_null(horn.name);
    hbk_horn_finish(&horn);
    return hbk_text_string(&text);
}

static void each_bad_file_gives_exactly_its_messages(void **state)
{
    bool *const seen = *state;
    struct hbk_arena arena = {0};
    static const char *names[1000];
    const size_t n = bad_files(&arena, names, 1000);
    assert_true(n > 100);
    size_t wrong = 0;
    for (size_t i = 0; i < n; i++) {
        char *want = NULL;
        size_t length = 0;
        struct hbk_faults faults = {0};
        const char *const path =
            hbk_arena_printf(&arena, "%s/%s.yaml", folder, names[i]);
        const char *const err =
            hbk_arena_printf(&arena, "%s/%s.err", folder, names[i]);
        const char *const got = messages_of(path, &arena, seen);
        assert_int_equal(
            hbk_file_read(err, 100000, &arena, &want, &length, &faults),
            HBK_OK);
        if (strcmp(got, want) != 0) {
            print_error("%s: got\n%swant\n%s", path, got, want);
            wrong++;
        }
    }
    assert_int_equal(wrong, 0);
    hbk_arena_finish(&arena);
}

/* Numbers are read from the header, so that a new one is not forgotten. */
static void each_message_is_given_by_a_bad_file(void **state)
{
    const bool *const seen = *state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    char *header = NULL;
    size_t length = 0;
    assert_int_equal(hbk_file_read("src/reader/messages.h", 100000, &arena,
                                   &header, &length, &faults),
                     HBK_OK);
    size_t n = 0;
    size_t missing = 0;
    for (const char *at = strstr(header, "HBK_H_"); at != NULL;
         at = strstr(at + 1, "HBK_H_")) {
        const char *const sign = strstr(at, " = ");
        const size_t name = strcspn(at, " ,\n");
        if (sign != at + name) {
            continue; /* the guard of the header */
        }
        const int number = atoi(sign + 3);
        n++;
        assert_in_range(number, 10, 129);
        /* A horn named on the command line is in no file. */
        if (!seen[number] && number != HBK_H_NO_SUCH_HORN) {
            print_error("%.*s is in no file of %s\n", (int)name, at, folder);
            missing++;
        }
    }
    assert_true(n > 80);
    assert_int_equal(missing, 0);
    hbk_arena_finish(&arena);
}

int main(void)
{
    static bool seen[NUMBERS];
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_prestate(each_bad_file_gives_exactly_its_messages,
                                  seen),
        cmocka_unit_test_prestate(each_message_is_given_by_a_bad_file, seen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
