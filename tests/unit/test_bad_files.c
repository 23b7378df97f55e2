/*
 * Every faulty file of tests/bad gives exactly the messages beside it, and
 * every message of the reader is given by one of them.
 */
#include "support/bad_files.h"

#include "base/messages.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "reader/horn_file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char folder[] = "tests/bad";

enum { NUMBERS = 1000 };

static const char *messages_of(void *ctx, const char *path,
                               struct hbk_arena *arena)
{
    bool *const seen = ctx;
    struct hbk_horn horn;
    struct hbk_faults faults = {0};
    const enum hbk_status status = hbk_horn_read(path, &horn, &faults);
    if (status != HBK_ERR_INPUT || faults.errors == 0) {
        fail_msg("%s is not refused", path);
    }
    for (size_t i = 0; i < faults.count; i++) {
        seen[faults.items[i].number] = true;
    }
    /* A refused horn is empty. */
    assert_int_equal(horn.n_controls, 0);
    assert_int_equal(horn.n_sites, 0);
    assert_null(horn.name);
    /* The faults name files in the horn's own memory. */
    const char *const lines = lines_of(&faults, arena);
    hbk_horn_finish(&horn);
    return lines;
}

static void each_bad_file_gives_exactly_its_messages(void **state)
{
    check_bad_files(folder, 103, messages_of, *state);
}

/* What is only doubted is in a file that is good; tests/cli/check.py. */
static void see_doubts(bool seen[])
{
    struct hbk_horn horn;
    struct hbk_faults faults = {0};
    assert_int_equal(
        hbk_horn_read("tests/doubtful/cut-by-comment.yaml", &horn, &faults),
        HBK_OK);
    assert_int_equal(faults.count, 3);
    for (size_t i = 0; i < faults.count; i++) {
        assert_true(faults.items[i].warning);
        seen[faults.items[i].number] = true;
    }
    hbk_horn_finish(&horn);
}

/* The horn reader's numbers; another reader or command gives the others. */
static void each_message_is_given_by_a_bad_file(void **state)
{
    static const struct {
        unsigned number;
        const char *name;
    } messages[] = {
#define HBK_MESSAGE(number, name, meaning, example) {number, #name},
#define HBK_RETIRED(number, meaning)
#include "base/messages.def"
    };
    bool *const seen = *state;
    see_doubts(seen);
    size_t n = 0;
    size_t missing = 0;
    for (size_t i = 0; i < sizeof messages / sizeof messages[0]; i++) {
        const unsigned number = messages[i].number;
        if (number < HBK_H_EMPTY || number > HBK_H_NO_SUCH_HORN) {
            continue;
        }
        n++;
        /* A horn named on the command line is in no file. */
        if (!seen[number] && number != HBK_H_NO_SUCH_HORN) {
            print_error("%s is in no file of %s\n", messages[i].name, folder);
            missing++;
        }
    }
    assert_true(n > 80);
    assert_int_equal(missing, 0);
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
