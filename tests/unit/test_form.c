/* The form to measure a horn by: two pages, room to write, names of fields. */
#include "support/check.h"
#include "support/real_ruler.h"
#include "support/ruler.h"
#include "support/sheets.h"

#include "base/file.h"
#include "sheet/article/form.h"

#include <ctype.h>
#include <string.h>

static struct hbk_ruler real;

static void lay(const struct hbk_form *form, enum hbk_paper paper,
                const struct hbk_ruler *ruler, struct hbk_sheet *sheet)
{
    const struct hbk_sheet_options options = {.paper = paper};
    hbk_sheet_form(form, &options, ruler, sheet);
    check_no_clash(sheet, ruler);
    check_sizes(sheet, 7.5);
}

static void every_form_has_two_pages_and_nothing_over_anything(void **state)
{
    (void)state;
    static const struct hbk_form forms[] = {
        {true, false, 0, 0},  {true, false, 1, 0},  {true, false, 6, 0},
        {true, false, 11, 0}, {true, false, 16, 0}, {false, true, 0, 0},
        {false, true, 0, 1},  {false, true, 0, 6},  {true, true, 9, 1},
        {true, true, 0, 0}};
    const struct hbk_ruler rulers[2] = {fixed_ruler(), real};
    size_t papers = 0;
    for (int p = 0; p < HBK_PAPER_COUNT; p++) {
        const enum hbk_paper paper = (enum hbk_paper)p;
        papers += hbk_form_takes(paper) ? 1 : 0;
        for (size_t k = 0; k < 20 && hbk_form_takes(paper); k++) {
            const struct hbk_form *const form = &forms[k / 2];
            struct hbk_arena arena = {0};
            struct hbk_sheet sheet = {.arena = &arena};
            lay(form, paper, &rulers[k % 2], &sheet);
            assert_int_equal(sheet.n_pages,
                             form->has_keys && form->has_valves ? 4 : 2);
            hbk_arena_finish(&arena);
        }
    }
    assert_int_equal(papers, 3);
    assert_false(hbk_form_takes(HBK_A6));
}

/* Lines that are written on lie 8 mm apart, in any two of one table. */
static void lines_to_write_on_are_far_enough_apart(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_sheet sheet = {.arena = &arena};
    const struct hbk_form form = {.has_keys = true, .has_valves = true};
    lay(&form, HBK_LETTER, &real, &sheet);
    size_t n = 0;
    for (size_t p = 0; p < sheet.n_pages; p++) {
        const struct hbk_page *const page = &sheet.pages[p];
        for (size_t i = 1; i < page->n; i++) {
            const struct hbk_mark *const a = &page->marks[i - 1];
            const struct hbk_mark *const b = &page->marks[i];
            if (a->kind == HBK_LINE && b->kind == HBK_LINE && a->dy == 0.0 &&
                b->dy == 0.0 && a->x == b->x && a->dx == b->dx &&
                a->group == b->group) {
                assert_true(b->y - a->y >= 8.0 - 1e-9);
                n++;
            }
        }
    }
    /* Keys and valves, stations, slides, and four tables of readings. */
    assert_true(n > 80);
    hbk_arena_finish(&arena);
}

/* The rows asked for are all there, those beyond the page overleaf. */
static void keys_are_numbered_through(void **state)
{
    (void)state;
    for (size_t n = 1; n <= 16; n += 5) {
        struct hbk_arena arena = {0};
        struct hbk_sheet sheet = {.arena = &arena};
        const struct hbk_form form = {.has_keys = true, .n_keys = n};
        lay(&form, HBK_LETTER, &real, &sheet);
        size_t rows = 0;
        for (size_t p = 0; p < sheet.n_pages; p++) {
            for (size_t i = 0; i < sheet.pages[p].n; i++) {
                const struct hbk_mark *const mark = &sheet.pages[p].marks[i];
                rows +=
                    mark->kind == HBK_TEXT && !is_in_dot(&sheet.pages[p], i) &&
                            strcmp(mark->text, hbk_arena_printf(&arena, "%zu",
                                                                rows + 1)) == 0
                        ? 1
                        : 0;
            }
        }
        assert_int_equal(rows, n);
        hbk_arena_finish(&arena);
    }
}

static const char *read_schema(struct hbk_arena *arena, const char *path)
{
    struct hbk_faults faults = {0};
    char *bytes = NULL;
    size_t length = 0;
    assert_int_equal(
        hbk_file_read(path, 1024 * 1024, arena, &bytes, &length, &faults),
        HBK_OK);
    return bytes;
}

/* Whether a schema has a property of that name. */
static bool has_property(struct hbk_arena *arena, const char *schema,
                         const char *name, size_t length)
{
    const char *const word = hbk_arena_copy(arena, name, length);
    return strstr(schema, hbk_arena_printf(arena, "\"%s\": {", word)) != NULL;
}

static void names_in_bold_are_fields_of_the_files(void **state)
{
    (void)state;
    static const char names[] = "abcdefghijklmnopqrstuvwxyz_0123456789";
    struct hbk_arena arena = {0};
    struct hbk_sheet sheet = {.arena = &arena};
    const struct hbk_form form = {.has_keys = true, .has_valves = true};
    const char *const horn =
        read_schema(&arena, "instruments/horn.schema.json");
    const char *const readings =
        read_schema(&arena, "instruments/readings.schema.json");
    size_t found = 0;
    lay(&form, HBK_A4, &real, &sheet);
    for (size_t p = 0; p < sheet.n_pages; p++) {
        for (size_t i = 0; i < sheet.pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet.pages[p].marks[i];
            const char *at = mark->text;
            /* Letters alone are places of the picture, figures are keys. */
            if (mark->kind != HBK_TEXT || mark->face != HBK_FACE_BOLD ||
                isdigit((unsigned char)at[0]) != 0 || strlen(at) == 1) {
                continue;
            }
            for (; *at != '\0'; at += strspn(at, " :")) {
                const size_t length = strspn(at, names);
                assert_true(length > 0);
                if (!has_property(&arena, horn, at, length) &&
                    !has_property(&arena, readings, at, length)) {
                    print_error("'%s' is no field\n", at);
                    fail();
                }
                found++;
                at += length;
            }
        }
    }
    assert_true(found > 90);
    hbk_arena_finish(&arena);
}

static void the_form_says_what_is_to_be_measured(void **state)
{
    (void)state;
    static const char *const keyed[] = {
        "called",     "rest",        "raises",
        "from_bell",  "diameter",    "chimney",
        "pad_lift",   "finger",      "bore",
        "volume",     "throat",      "backbore",
        "stuck",      "remarks",     "slide",
        "travel",     "stands_out",  "legs",
        "set",        "crook",       "adds",
        "a4",         "temperature", "note",
        "fingering",  "cents",       "written_c4_sounds",
        "clef",       "compass",     "fundamental",
        "open closed"};
    static const char *const valved[] = {"loop",   "lowers", "at",
                                         "action", "valve",  "out in"};
    struct hbk_arena arena = {0};
    struct hbk_sheet keys = {.arena = &arena};
    struct hbk_sheet valves = {.arena = &arena};
    const struct hbk_form form = {.has_keys = true};
    const struct hbk_form other = {.has_valves = true};
    lay(&form, HBK_A4, &real, &keys);
    lay(&other, HBK_A4, &real, &valves);
    for (size_t i = 0; i < sizeof(keyed) / sizeof(keyed[0]); i++) {
        check_sheet_says(&keys, keyed[i]);
    }
    for (size_t i = 0; i < sizeof(valved) / sizeof(valved[0]); i++) {
        check_sheet_says(&valves, valved[i]);
    }
    assert_null(strstr(sheet_words(&keys), "loop "));
    assert_null(strstr(sheet_words(&valves), "pad_lift"));
    for (size_t i = 0; i < 2; i++) {
        const struct hbk_sheet *const sheet = i == 0 ? &keys : &valves;
        check_sheet_says(sheet, "Never force a stuck key, valve, slide");
        check_sheet_says(sheet, "may contain lead or carry verdigris");
        check_sheet_says(sheet, "protect your hearing");
        check_sheet_says(sheet, "repairer or conservator");
    }
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_form_has_two_pages_and_nothing_over_anything),
        cmocka_unit_test(lines_to_write_on_are_far_enough_apart),
        cmocka_unit_test(keys_are_numbered_through),
        cmocka_unit_test(names_in_bold_are_fields_of_the_files),
        cmocka_unit_test(the_form_says_what_is_to_be_measured),
    };
    return run_with_fonts("form", tests, sizeof(tests) / sizeof(tests[0]),
                          &real);
}
