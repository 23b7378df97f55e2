/* The YAML tree, its values and its fields; what is refused is in tests/bad. */
#include "support/check.h"

#include "reader/fields.h"
#include "reader/shown.h"

#include <stdio.h>
#include <string.h>

struct parsed {
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_node root;
    enum hbk_status status;
};

static void parse(struct parsed *p, const char *text)
{
    memset(p, 0, sizeof(*p));
    p->status = hbk_tree_parse("t.yaml", text, strlen(text), &p->arena,
                               "first: 1", &p->root, &p->faults);
}

static struct hbk_fields fields_of(struct parsed *p)
{
    return (struct hbk_fields){
        .map = &p->root, .words = "", .arena = &p->arena, .faults = &p->faults};
}

static void finish(struct parsed *p)
{
    hbk_arena_finish(&p->arena);
}

static void check_place(struct hbk_place place, unsigned line, unsigned column)
{
    assert_string_equal(place.file, "t.yaml");
    assert_int_equal(place.line, line);
    assert_int_equal(place.column, column);
}

/* The message of the only fault, for comparison. */
static const char *only_fault(const struct parsed *p)
{
    assert_int_equal(p->faults.count, 1);
    return p->faults.items[0].text;
}

static void names_and_values_know_their_places(void **state)
{
    (void)state;
    struct parsed p;
    parse(&p, "a: 1\nlist:\n  - x\n  - {deep: 'y z', \"q\": [2, 3]}\n");
    assert_int_equal(p.status, HBK_OK);
    assert_int_equal(p.root.kind, HBK_MAP);
    assert_int_equal(p.root.n, 2);
    check_place(p.root.entries[0].place, 1, 1);
    check_place(p.root.entries[0].value.place, 1, 4);
    const struct hbk_node *const list = &hbk_node_entry(&p.root, "list")->value;
    assert_int_equal(list->kind, HBK_LIST);
    assert_int_equal(list->n, 2);
    check_place(list->items[0].place, 3, 5);
    const struct hbk_node *const map = &list->items[1];
    check_place(map->place, 4, 5);
    const struct hbk_entry *const deep = hbk_node_entry(map, "deep");
    check_place(deep->place, 4, 6);
    check_place(deep->value.place, 4, 12);
    assert_string_equal(deep->value.text, "y z");
    assert_true(deep->value.is_quoted);
    const struct hbk_node *const q = &hbk_node_entry(map, "q")->value;
    assert_string_equal(q->items[1].text, "3");
    assert_false(q->items[1].is_quoted);
    assert_null(hbk_node_entry(map, "r"));
    finish(&p);
}

static void columns_count_characters_not_bytes(void **state)
{
    (void)state;
    struct parsed p;
    parse(&p, "\xEF\xBB\xBFn\xC3\xB6: {\xE2\x99\xAF: 1, b: 2}\n");
    assert_int_equal(p.status, HBK_OK);
    const struct hbk_node *const map = &p.root.entries[0].value;
    check_place(p.root.entries[0].place, 1, 1);
    check_place(map->place, 1, 5);
    check_place(map->entries[1].place, 1, 12);
    finish(&p);
}

static void lists_keep_their_order_as_they_grow(void **state)
{
    (void)state;
    char text[4096] = "list: [0";
    for (int i = 1; i < 300; i++) {
        const size_t used = strlen(text);
        (void)snprintf(text + used, sizeof(text) - used, ", %d", i);
    }
    strcat(text, "]\n");
    struct parsed p;
    parse(&p, text);
    assert_int_equal(p.status, HBK_OK);
    const struct hbk_node *const list = &p.root.entries[0].value;
    assert_int_equal(list->n, 300);
    for (int i = 0; i < 300; i++) {
        char want[8];
        (void)snprintf(want, sizeof(want), "%d", i);
        assert_string_equal(list->items[i].text, want);
    }
    finish(&p);
}

static void sixteen_levels_are_read_and_seventeen_are_not(void **state)
{
    (void)state;
    struct parsed p;
    parse(&p, "a: [[[[[[[[[[[[[[[x]]]]]]]]]]]]]]]\n");
    assert_int_equal(p.status, HBK_OK);
    finish(&p);
    parse(&p, "a: [[[[[[[[[[[[[[[[x]]]]]]]]]]]]]]]]\n");
    assert_int_equal(p.status, HBK_ERR_INPUT);
    assert_int_equal(p.faults.items[0].number, 19);
    finish(&p);
}

static void faults_that_leave_a_tree_are_collected(void **state)
{
    (void)state;
    struct parsed p;
    parse(&p, "a: &x 1\nb: *x\nc: !!str 2\na: 3\n? [d]\n: 4\ne: 5\n");
    assert_int_equal(p.status, HBK_OK);
    static const unsigned numbers[] = {15, 14, 16, 18, 21};
    static const unsigned lines[] = {1, 2, 3, 4, 5};
    assert_int_equal(p.faults.count, 5);
    assert_int_equal(p.faults.errors, 5);
    for (size_t i = 0; i < 5; i++) {
        assert_int_equal(p.faults.items[i].number, numbers[i]);
        assert_int_equal(p.faults.items[i].line, lines[i]);
    }
    assert_true(hbk_node_entry(&p.root, "b")->value.is_faulty);
    assert_string_equal(hbk_node_entry(&p.root, "e")->value.text, "5");
    /* What was reported is not reported again. */
    const struct hbk_fields fields = fields_of(&p);
    double value = 0.6173;
    const struct hbk_range range = {0.0, 10.0, HBK_UNIT_MM};
    assert_int_equal(hbk_field_number(&fields, "b", range, &value),
                     HBK_REFUSED);
    assert_int_equal(p.faults.count, 5);
    check_abs(value, 0.6173, 0.0);
    finish(&p);
}

static void a_failed_parse_leaves_the_root_alone(void **state)
{
    (void)state;
    static const char *const texts[] = {"", "a: [1", "- 1", "a: \xFF", "a"};
    for (size_t i = 0; i < sizeof(texts) / sizeof(texts[0]); i++) {
        struct parsed p = {.root = {.n = 71}};
        p.status = hbk_tree_parse("t.yaml", texts[i], strlen(texts[i]),
                                  &p.arena, "first: 1", &p.root, &p.faults);
        assert_int_equal(p.status, HBK_ERR_INPUT);
        assert_int_equal(p.faults.errors, 1);
        assert_int_equal(p.root.n, 71);
        finish(&p);
    }
}

/*
 * The core schema of YAML 1.2.2, section 10.3.2: which plain scalars are
 * null, bool, int or float; everything else, and all that is quoted, is text.
 */
static void scalars_have_the_types_of_the_core_schema(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        enum hbk_scalar_type type;
    } cases[] = {
        {"null", HBK_IS_NOTHING},  {"NULL", HBK_IS_NOTHING},
        {"~", HBK_IS_NOTHING},     {"", HBK_IS_NOTHING},
        {"nULL", HBK_IS_TEXT},     {"true", HBK_IS_BOOL},
        {"False", HBK_IS_BOOL},    {"yes", HBK_IS_TEXT},
        {"on", HBK_IS_TEXT},       {"0", HBK_IS_NUMBER},
        {"-19", HBK_IS_NUMBER},    {"0o7", HBK_IS_NUMBER},
        {"0x3A", HBK_IS_NUMBER},   {"0x", HBK_IS_TEXT},
        {"0o8", HBK_IS_TEXT},      {"0.", HBK_IS_NUMBER},
        {"-0.0", HBK_IS_NUMBER},   {".5", HBK_IS_NUMBER},
        {"+12e03", HBK_IS_NUMBER}, {"-2E+05", HBK_IS_NUMBER},
        {".inf", HBK_IS_NUMBER},   {"-.Inf", HBK_IS_NUMBER},
        {".NaN", HBK_IS_NUMBER},   {"inf", HBK_IS_TEXT},
        {"1:30", HBK_IS_TEXT},     {"1_000", HBK_IS_TEXT},
        {"0-3", HBK_IS_TEXT},      {"F#4", HBK_IS_TEXT},
    };
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct hbk_node node = {.kind = HBK_SCALAR, .text = cases[i].text};
        if (hbk_node_type(&node) != cases[i].type) {
            fail_msg("'%s' is taken for type %d", cases[i].text,
                     (int)hbk_node_type(&node));
        }
        node.is_quoted = true;
        assert_int_equal(hbk_node_type(&node), HBK_IS_TEXT);
    }
}

static void fields_are_got_absent_or_refused(void **state)
{
    (void)state;
    struct parsed p;
    parse(&p, "mm: 12.75\nwhole: -3\nyes: true\nnote: Eb5\nword: shut\n"
              "text: |\n  two  lines\n  of text\nlist: [1, 2]\nmap: {a: 1}\n");
    const struct hbk_fields fields = fields_of(&p);
    static const char *const words[] = {"open", "shut"};
    const struct hbk_range range = {0.0, 100.0, HBK_UNIT_MM};
    double mm = 0.0;
    long whole = 0;
    bool yes = false;
    int note = 0;
    size_t word = 0;
    const char *text = NULL;
    const struct hbk_node *list = NULL;
    struct hbk_fields map = {0};
    assert_int_equal(hbk_field_number(&fields, "mm", range, &mm), HBK_GOT);
    check_abs(mm, 12.75, 0.0);
    assert_int_equal(hbk_field_whole(&fields, "whole", -5, 5, &whole), HBK_GOT);
    assert_int_equal(whole, -3);
    assert_int_equal(hbk_field_bool(&fields, "yes", &yes), HBK_GOT);
    assert_true(yes);
    assert_int_equal(hbk_field_note(&fields, "note", &note), HBK_GOT);
    assert_int_equal(note, 75);
    assert_int_equal(hbk_field_choice(&fields, "word", words, 2, &word),
                     HBK_GOT);
    assert_int_equal(word, 1);
    assert_int_equal(hbk_field_text(&fields, "text", 40, &text), HBK_GOT);
    assert_string_equal(text, "two lines of text");
    assert_int_equal(hbk_field_list(&fields, "list", 2, 2, &list), HBK_GOT);
    assert_int_equal(list->n, 2);
    assert_int_equal(hbk_field_map(&fields, "map", "{a: 1}", &map), HBK_GOT);
    assert_string_equal(map.words, "map");
    assert_int_equal(p.faults.count, 0);
    assert_int_equal(hbk_field_number(&fields, "none", range, &mm), HBK_ABSENT);
    assert_int_equal(hbk_field_text(&fields, "none", 40, &text), HBK_ABSENT);
    assert_int_equal(hbk_field_map(&fields, "none", "{}", &map), HBK_ABSENT);
    assert_int_equal(p.faults.count, 0);
    /* A refusal leaves the result alone. */
    assert_int_equal(hbk_field_note(&fields, "mm", &note), HBK_REFUSED);
    assert_int_equal(hbk_field_whole(&fields, "mm", 0, 50, &whole),
                     HBK_REFUSED);
    assert_int_equal(hbk_field_text(&fields, "text", 5, &text), HBK_REFUSED);
    assert_int_equal(note, 75);
    assert_int_equal(whole, -3);
    assert_string_equal(text, "two lines of text");
    assert_int_equal(p.faults.count, 3);
    finish(&p);
}

static void ends_of_a_range_belong_to_it(void **state)
{
    (void)state;
    struct parsed p;
    parse(&p, "a: 1.5\nb: 30\nc: 1.4999\nd: 30.001\n");
    const struct hbk_fields fields = fields_of(&p);
    const struct hbk_range range = {1.5, 30.0, HBK_UNIT_MM};
    double value = 0.0;
    assert_int_equal(hbk_field_number(&fields, "a", range, &value), HBK_GOT);
    assert_int_equal(hbk_field_number(&fields, "b", range, &value), HBK_GOT);
    assert_int_equal(hbk_field_number(&fields, "c", range, &value),
                     HBK_REFUSED);
    assert_string_equal(only_fault(&p), "c: 1.4999 mm is out of bounds; it "
                                        "must be from 1.5 to 30 mm");
    assert_int_equal(hbk_field_number(&fields, "d", range, &value),
                     HBK_REFUSED);
    finish(&p);
}

static void unknown_names_get_the_nearest_known(void **state)
{
    (void)state;
    static const char *const known[] = {"diameter", "chimney", "finger"};
    struct parsed p;
    parse(&p, "chimney: 1\ndiametre: 2\n");
    struct hbk_fields fields = fields_of(&p);
    fields.words = "key 3";
    hbk_fields_known(&fields, known, 3);
    assert_string_equal(
        only_fault(&p),
        "key 3: 'diametre' is unknown here; did you mean 'diameter'?");
    assert_string_equal(p.faults.items[0].file, "t.yaml");
    assert_int_equal(p.faults.items[0].line, 2);
    assert_int_equal(p.faults.items[0].column, 1);
    finish(&p);
}

static void users_words_are_cut_and_cleaned(void **state)
{
    (void)state;
    char shown[HBK_SHOWN_SIZE];
    assert_string_equal(hbk_shown("a\tb\x7F", shown), "a?b?");
    /* Four-byte characters, the longest there are. */
    char text[(4 * 60) + 1] = "";
    for (int i = 0; i < 60; i++) {
        strcat(text, "\xF0\x9D\x84\x9E");
    }
    hbk_shown(text, shown);
    assert_int_equal(strlen(shown), (4 * 40) + 3);
    assert_memory_equal(shown, text, 4 * 40);
    assert_string_equal(shown + (4 * 40), "...");
}

static void the_twenty_first_fault_is_only_counted(void **state)
{
    (void)state;
    struct parsed p;
    parse(&p, "a: [x,x,x,x,x,x,x,x,x,x,x,x,x,x,x,x,x,x,x,x,x,x,x]\n");
    const struct hbk_range range = {0.0, 1.0, HBK_UNIT_NONE};
    const struct hbk_node *const list = &p.root.entries[0].value;
    for (size_t i = 0; i < list->n; i++) {
        double value = 0.0;
        const struct hbk_asked asked = {.node = &list->items[i],
                                        .owner = "",
                                        .name = "a",
                                        .faults = &p.faults};
        assert_false(hbk_value_number(asked, range, &value));
    }
    assert_int_equal(p.faults.count, 20);
    assert_int_equal(p.faults.errors, 23);
    assert_int_equal(p.faults.beyond, 3);
    finish(&p);
}

static void a_missing_file_and_a_folder_are_refused(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_node root = {0};
    assert_int_equal(
        hbk_tree_read("tests/no-such.yaml", &arena, "a: 1", &root, &faults),
        HBK_ERR_INPUT);
    assert_int_equal(hbk_tree_read("tests", &arena, "a: 1", &root, &faults),
                     HBK_ERR_INPUT);
    assert_int_equal(faults.errors, 2);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_and_values_know_their_places),
        cmocka_unit_test(columns_count_characters_not_bytes),
        cmocka_unit_test(lists_keep_their_order_as_they_grow),
        cmocka_unit_test(sixteen_levels_are_read_and_seventeen_are_not),
        cmocka_unit_test(faults_that_leave_a_tree_are_collected),
        cmocka_unit_test(a_failed_parse_leaves_the_root_alone),
        cmocka_unit_test(scalars_have_the_types_of_the_core_schema),
        cmocka_unit_test(fields_are_got_absent_or_refused),
        cmocka_unit_test(ends_of_a_range_belong_to_it),
        cmocka_unit_test(unknown_names_get_the_nearest_known),
        cmocka_unit_test(users_words_are_cut_and_cleaned),
        cmocka_unit_test(the_twenty_first_fault_is_only_counted),
        cmocka_unit_test(a_missing_file_and_a_folder_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
