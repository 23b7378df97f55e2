#include "support/check.h"
#include "support/written.h"

#include "base/ending.h"
#include "base/fault.h"
#include "base/file.h"
#include "base/json.h"
#include "base/number.h"
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void numbers_fill_their_text(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double value;
    } good[] = {{"12.36", 12.36}, {"-.5", -0.5}, {"7.", 7.0},
                {"1e3", 1000.0},  {"+3", 3.0},   {"2.5E-2", 0.025}};
    for (size_t i = 0; i < sizeof(good) / sizeof(good[0]); i++) {
        double value = -99.0;
        assert_true(hbk_number_parse(good[i].text, &value));
        check_abs(value, good[i].value, 1e-15);
    }
    static const char *const bad[] = {"",    ".",     "-",   "12mm", "1,5",
                                      "nan", "inf",   "0x1", " 1",   "1 ",
                                      "1e",  "1e999", "--1", "1.2.3"};
    for (size_t i = 0; i < sizeof(bad) / sizeof(bad[0]); i++) {
        double value = -99.0;
        assert_false(hbk_number_parse(bad[i], &value));
        check_abs(value, -99.0, 0.0);
    }
    long whole = 0;
    assert_true(hbk_number_parse_whole("-12", -20, 20, &whole));
    assert_int_equal(whole, -12);
    assert_false(hbk_number_parse_whole("21", -20, 20, &whole));
    assert_false(hbk_number_parse_whole("99999999999", -20, 20, &whole));
}

static void a_count_is_the_digits_in_front(void **state)
{
    (void)state;
    long count = -1;
    const char *const beats = "12+3";
    assert_ptr_equal(hbk_number_count(beats, 4, &count), beats + 2);
    assert_int_equal(count, 12);
    assert_non_null(hbk_number_count("000000007", 9, &count));
    assert_int_equal(count, 7);
    static const char *const bad[] = {"", "+3", " 3", "x", "10000"};
    for (size_t i = 0; i < sizeof(bad) / sizeof(bad[0]); i++) {
        assert_null(hbk_number_count(bad[i], 4, &count));
    }
    assert_int_equal(count, 7);
}

/*
 * JCGM 100:2008 (GUM) 7.2.6: uncertainties to at most two significant
 * figures, results rounded to be consistent with them; its examples, from
 * memory, 28.05 to 28 and 10.05762 with 0.027 to 10.058.
 */
static void a_value_is_shown_as_closely_as_it_is_known(void **state)
{
    (void)state;
    static const struct {
        double value, sd;
        const char *text;
    } cases[] = {{-0.1, 5.54, "-0.1"},      {5.54, 5.54, "5.5"},
                 {-0.04, 5.54, "0.0"},      {12.3456, 0.2149, "12.35"},
                 {9.96, 9.96, "10"},        {1473.4, 12.6, "1473"},
                 {28.05, 28.05, "28"},      {10.05762, 0.027, "10.058"},
                 {0.0499, 0.0499, "0.050"}, {440.123, 250.0, "440"},
                 {1.5, 0.0, "1.500000"}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        char text[HBK_KNOWN_SIZE];
        assert_string_equal(hbk_known_text(cases[i].value, cases[i].sd, text),
                            cases[i].text);
    }
}

static void faults_keep_twenty_and_count_the_rest(void **state)
{
    (void)state;
    struct hbk_faults faults = {0};
    for (unsigned i = 0; i < 23; i++) {
        hbk_fault_add(
            &faults,
            (struct hbk_place){.file = "x.yaml", .line = i + 1, .column = 3},
            34, "fault %u", i);
    }
    assert_int_equal(faults.count, 20);
    assert_int_equal(faults.errors, 23);
    assert_int_equal(faults.beyond, 3);
    char line[200];
    hbk_fault_format(&faults.items[1], line, sizeof(line));
    assert_string_equal(line, "x.yaml:2:3: error: fault 1 [H034]");
    struct hbk_faults warnings = {0};
    hbk_fault_warn(&warnings, (struct hbk_place){.file = "x.yaml"}, 7, "so");
    hbk_fault_format(&warnings.items[0], line, sizeof(line));
    assert_string_equal(line, "x.yaml: warning: so [H007]");
    assert_int_equal(warnings.errors, 0);
}

/* What an array held stays, what it gained is zero, and the old one lives. */
static void an_array_grows_with_its_content(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct wide {
        uint64_t of[40];
    } *wide = NULL;
    size_t n_wide = 0;
    size_t wide_room = 0;
    uint32_t *numbers = NULL;
    const uint32_t *first = NULL;
    size_t n = 0;
    size_t room = 0;
    size_t moves = 0;
    for (uint32_t i = 0; i < 100000; i++) {
        const uint32_t *const before = numbers;
        HBK_ARENA_GROW(&arena, numbers, n, room);
        moves += numbers != before ? 1 : 0;
        first = first == NULL ? numbers : first;
        assert_true(n < room);
        assert_int_equal(numbers[n], 0);
        assert_int_equal(numbers[room - 1], 0);
        numbers[n++] = i + 1;
    }
    for (uint32_t i = 0; i < n; i++) {
        assert_int_equal(numbers[i], i + 1);
    }
    assert_int_equal(first[0], 1);
    /* It doubles: 64 and twelve times twice that are over 100,000. */
    assert_true(moves <= 12);
    for (uint64_t i = 0; i < 9; i++) {
        HBK_ARENA_GROW(&arena, wide, n_wide, wide_room);
        wide[n_wide++].of[39] = i;
    }
    assert_int_equal(wide[8].of[39], 8);
    assert_int_equal(wide[0].of[39], 0);
    /* Any number at once; what fits is not moved. */
    numbers =
        hbk_arena_grow(&arena, numbers, n, 3 * n, &room, sizeof(*numbers));
    assert_true(room >= 4 * n);
    assert_int_equal(numbers[n - 1], n);
    assert_int_equal(numbers[room - 1], 0);
    assert_ptr_equal(
        hbk_arena_grow(&arena, numbers, n, room - n, &room, sizeof(*numbers)),
        numbers);
    hbk_arena_finish(&arena);
}

/* Whoever told of a place may release it; the address sanitizer looks on. */
static void faults_own_every_word(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults first = {0};
    struct hbk_faults second = {0};
    char *const name = hbk_arena_printf(&arena, "%s.yaml", "horn");
    char *const word = hbk_arena_printf(&arena, "%s", "tube");
    hbk_fault_add(&first, (struct hbk_place){.file = name, .line = 7}, 34,
                  "no %s", word);
    hbk_fault_warn(&first, (struct hbk_place){.file = name}, 35, "no %s", word);
    memset(name, '!', strlen(name));
    memset(word, '!', strlen(word));
    hbk_arena_finish(&arena);
    hbk_faults_hand_on(&first, &second);
    memset(&first, '!', sizeof(first));
    char line[HBK_FAULT_LINE];
    hbk_fault_format(&second.items[0], line, sizeof(line));
    assert_string_equal(line, "horn.yaml:7: error: no tube [H034]");
    hbk_fault_format(&second.items[1], line, sizeof(line));
    assert_string_equal(line, "horn.yaml: warning: no tube [H035]");
}

static void of_a_long_name_the_end_is_kept(void **state)
{
    (void)state;
    char name[2 * HBK_FAULT_FILE + 1];
    for (size_t i = 0; i + 1 < sizeof(name); i += 2) {
        memcpy(name + i, "\xC3\xA4", 2); /* a letter of two bytes */
    }
    for (size_t length = HBK_FAULT_FILE - 4; length < sizeof(name); length++) {
        name[length] = '\0';
        const char *const given = name + length % 2; /* whole letters */
        struct hbk_faults faults = {0};
        hbk_fault_add(&faults, (struct hbk_place){.file = given}, 1, "so");
        const char *const kept = faults.items[0].file;
        const size_t n = strlen(kept);
        const bool is_cut = strlen(given) >= HBK_FAULT_FILE;
        const char *const end = kept + (is_cut ? 3 : 0);
        assert_true(n < HBK_FAULT_FILE && n + 8 > HBK_FAULT_FILE);
        assert_int_equal(is_cut, strncmp(kept, "...", 3) == 0);
        assert_true(hbk_text_is_utf8(end, strlen(end)) || length % 2 == 1);
        assert_string_equal(end, given + strlen(given) - strlen(end));
        name[length] = length % 2 == 0 ? '\xC3' : '\xA4';
    }
    struct hbk_faults faults = {0};
    hbk_fault_add(&faults, (struct hbk_place){.file = ""}, 1, "so");
    assert_string_equal(faults.items[0].file, "''");
}

static void the_nearest_word_is_found(void **state)
{
    (void)state;
    static const char *const known[] = {"length", "bore", "keys", "valves"};
    assert_string_equal(hbk_text_nearest("lenght", known, 4), "length");
    assert_string_equal(hbk_text_nearest("valve", known, 4), "valves");
    assert_null(hbk_text_nearest("ophicleide", known, 4));
}

static void utf8_is_judged(void **state)
{
    (void)state;
    assert_true(hbk_text_is_utf8("B\xE2\x99\xAD", 4));
    assert_false(hbk_text_is_utf8("\xC0\xAF", 2));
    assert_false(hbk_text_is_utf8("\xED\xA0\x80", 3)); /* a surrogate */
    assert_false(hbk_text_is_utf8("\xE2\x99", 2));
    assert_false(hbk_text_is_utf8("a\0b", 3));
    assert_int_equal(hbk_text_columns("B\xE2\x99\xAD"), 2);
}

static void endings_are_what_follows_a_name(void **state)
{
    (void)state;
    assert_true(hbk_ends("horn.yaml", ".yaml"));
    assert_true(hbk_ends("HORN.YAML", ".yaml"));
    assert_false(hbk_ends(".yaml", ".yaml"));
    assert_false(hbk_ends("", ".yaml"));
    assert_false(hbk_ends("horn.yaml.txt", ".yaml"));
    assert_false(hbk_ends(NULL, ".yaml"));
    assert_true(hbk_ends_as_yaml("a.YML") && !hbk_ends_as_yaml("a.xml"));
    assert_true(hbk_ends_as_tune("a.abc") && hbk_ends_as_tune("a.mxl"));
    assert_false(hbk_ends_as_musicxml("a.abc"));
}

static void xml_is_written_with_entities(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_text out = {.arena = &arena};
    hbk_text_add_xml(&out, "a<b> & \"c\"\x01\n\xE2\x99\xAD");
    assert_string_equal(out.bytes,
                        "a&lt;b&gt; &amp; &quot;c&quot;  \xE2\x99\xAD");
    out = (struct hbk_text){.arena = &arena};
    hbk_text_add_xml(&out,
                     "\xE9t\xC3\xA9 \xEF\xBF\xBF\xF0\x9D\x84\x9E\xE2\x99");
    assert_string_equal(out.bytes, "\xEF\xBF\xBDt\xC3\xA9 \xEF\xBF\xBD"
                                   "\xF0\x9D\x84\x9E\xEF\xBF\xBD\xEF\xBF\xBD");
    hbk_arena_finish(&arena);
}

static void json_is_written_with_escapes(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_text out = {.arena = &arena};
    struct hbk_json json = {.out = &out};
    hbk_json_open_object(&json, NULL);
    hbk_json_string(&json, "a", "say \"F\\\n");
    hbk_json_open_array(&json, "b");
    hbk_json_number(&json, NULL, -0.0004, 2);
    hbk_json_number(&json, NULL, (double)NAN, 2);
    hbk_json_close_array(&json);
    hbk_json_open_array(&json, "c");
    hbk_json_close_array(&json);
    hbk_json_close_object(&json);
    hbk_json_finish(&json);
    assert_string_equal(out.bytes, "{\n  \"a\": \"say \\\"F\\\\\\u000a\",\n"
                                   "  \"b\": [\n    0.00,\n    null\n  ],\n"
                                   "  \"c\": []\n}\n");
    hbk_arena_finish(&arena);
}

/* Files that were read stay to the end, so that no other gets their inodes. */
static char read_folder[] = P_tmpdir "/hornbook-test-XXXXXX";
static char kept_folder[] = P_tmpdir "/hornbook-test-XXXXXX";

static void files_appear_whole(void **state)
{
    (void)state;
    char *const folder = read_folder;
    assert_non_null(mkdtemp(folder));
    char path[128];
    (void)snprintf(path, sizeof(path), "%s/a.txt", folder);
    struct hbk_faults faults = {0};
    assert_int_equal(write_one(path, "first", 5, &faults), HBK_OK);
    assert_int_equal(write_one(path, "second", 6, &faults), HBK_OK);
    struct hbk_arena arena = {0};
    char *bytes = NULL;
    size_t length = 0;
    assert_int_equal(hbk_file_read(path, 100, &arena, &bytes, &length, &faults),
                     HBK_OK);
    assert_string_equal(bytes, "second");
    assert_int_equal(faults.count, 0);
    length = 77;
    assert_int_equal(hbk_file_read(path, 5, &arena, &bytes, &length, &faults),
                     HBK_ERR_INPUT);
    assert_int_equal(length, 77);
    assert_int_equal(hbk_file_read(folder, 5, &arena, &bytes, &length, &faults),
                     HBK_ERR_INPUT);
    assert_int_equal(faults.errors, 2);
    hbk_arena_finish(&arena);
}

/* A file's bytes, or NULL where there is none. */
static const char *content(const char *path, struct hbk_arena *arena)
{
    FILE *const file = hbk_file_peek(path);
    if (file == NULL) {
        return NULL;
    }
    char *const bytes = HBK_ARENA_ARRAY(arena, char, 100);
    const size_t n = fread(bytes, 1, 99, file);
    (void)fclose(file);
    return n < 99 ? bytes : NULL;
}

/*
 * The last file has no name, which shows only when the others have theirs:
 * the older file is then there again and the new one is gone.
 */
static void files_are_written_all_or_none(void **state)
{
    (void)state;
    char folder[] = P_tmpdir "/hornbook-test-XXXXXX";
    assert_non_null(mkdtemp(folder));
    struct hbk_arena arena = {0};
    const char *const older = hbk_arena_printf(&arena, "%s/a", folder);
    const char *const fresh = hbk_arena_printf(&arena, "%s/b", folder);
    struct hbk_faults faults = {0};
    assert_int_equal(write_one(older, "old", 3, &faults), HBK_OK);
    const struct hbk_outgoing files[] = {
        {.path = older, .bytes = "new", .length = 3},
        {.path = fresh, .bytes = "new", .length = 3},
        {.path = "", .bytes = "new", .length = 3}};
    assert_int_equal(hbk_files_write(files, 3, &faults), HBK_ERR_OUTPUT);
    assert_int_equal(faults.errors, 1);
    assert_string_equal(content(older, &arena), "old");
    assert_null(content(fresh, &arena));
    assert_int_equal(hbk_files_write(files, 2, &faults), HBK_OK);
    assert_string_equal(content(older, &arena), "new");
    assert_string_equal(content(fresh, &arena), "new");
    (void)unlink(older);
    (void)unlink(fresh);
    assert_int_equal(rmdir(folder), 0); /* nothing else was left there */
    hbk_arena_finish(&arena);
}

static void what_was_read_is_replaced_on_purpose_only(void **state)
{
    (void)state;
    char *const folder = kept_folder;
    assert_non_null(mkdtemp(folder));
    struct hbk_arena arena = {0};
    const char *const path = hbk_arena_printf(&arena, "%s/a", folder);
    const char *const other = hbk_arena_printf(&arena, "%s/b", folder);
    struct hbk_faults faults = {0};
    assert_int_equal(write_one(path, "old", 3, &faults), HBK_OK);
    assert_int_equal(write_one(other, "old", 3, &faults), HBK_OK);
    assert_int_equal(hbk_file_may_write(path, &faults), HBK_OK);
    char *bytes = NULL;
    size_t length = 0;
    assert_int_equal(hbk_file_read(path, 9, &arena, &bytes, &length, &faults),
                     HBK_OK);
    assert_int_equal(faults.errors, 0);
    assert_int_equal(hbk_file_may_write(path, &faults), HBK_ERR_OUTPUT);
    assert_int_equal(write_one(path, "new", 3, &faults), HBK_ERR_OUTPUT);
    struct hbk_outgoing file = {
        .path = path, .bytes = "new", .length = 3, .over = other};
    assert_int_equal(hbk_files_write(&file, 1, &faults), HBK_ERR_OUTPUT);
    assert_int_equal(faults.errors, 3);
    assert_int_equal(faults.items[2].number, 6);
    assert_string_equal(content(path, &arena), "old");
    file.over = path;
    assert_int_equal(hbk_files_write(&file, 1, &faults), HBK_OK);
    assert_string_equal(content(path, &arena), "new");
    hbk_file_guard(other);
    assert_int_equal(write_one(other, "new", 3, &faults), HBK_ERR_OUTPUT);
    hbk_arena_finish(&arena);
}

static int remove_kept(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    (void)unlink(hbk_arena_printf(&arena, "%s/a.txt", read_folder));
    (void)unlink(hbk_arena_printf(&arena, "%s/a", kept_folder));
    (void)unlink(hbk_arena_printf(&arena, "%s/b", kept_folder));
    hbk_arena_finish(&arena);
    /* Nothing else was left there. */
    return rmdir(read_folder) == 0 && rmdir(kept_folder) == 0 ? 0 : -1;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        /* First: nothing was read yet whose inode a new file could get. */
        cmocka_unit_test(files_are_written_all_or_none),
        cmocka_unit_test(numbers_fill_their_text),
        cmocka_unit_test(a_count_is_the_digits_in_front),
        cmocka_unit_test(a_value_is_shown_as_closely_as_it_is_known),
        cmocka_unit_test(faults_keep_twenty_and_count_the_rest),
        cmocka_unit_test(an_array_grows_with_its_content),
        cmocka_unit_test(faults_own_every_word),
        cmocka_unit_test(of_a_long_name_the_end_is_kept),
        cmocka_unit_test(the_nearest_word_is_found),
        cmocka_unit_test(utf8_is_judged),
        cmocka_unit_test(endings_are_what_follows_a_name),
        cmocka_unit_test(xml_is_written_with_entities),
        cmocka_unit_test(json_is_written_with_escapes),
        cmocka_unit_test(files_appear_whole),
        /* Last: it lets go of a file that was read. */
        cmocka_unit_test(what_was_read_is_replaced_on_purpose_only),
    };
    return cmocka_run_group_tests_name("base", tests, NULL, remove_kept);
}
