#ifndef HBK_TESTS_JSON_H
#define HBK_TESTS_JSON_H

#include "support/check.h"

#include "base/text.h"
#include "reader/tree.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/*
 * A JSON text as a tree. JSON is YAML of its own brackets and quotation
 * marks, so the reader of horn files takes it apart, and no name may stand
 * twice in an object. `text` must outlive the tree.
 */
static inline struct hbk_node json_tree(const struct hbk_text *text,
                                        struct hbk_arena *arena)
{
    struct hbk_node root;
    struct hbk_faults faults = {.count = 0};
    const enum hbk_status status =
        hbk_tree_parse("result.json", hbk_text_string(text), text->length,
                       arena, "{", &root, &faults);
    if (status != HBK_OK || faults.count > 0) {
        print_error("%s\n", faults.items[0].text);
    }
    assert_int_equal(status, HBK_OK);
    assert_int_equal(faults.count, 0);
    assert_int_equal(root.kind, HBK_MAP);
    return root;
}

/* "notes.3.fingerings.0.label"; NULL where there is no such value. */
static inline const struct hbk_node *json_find(const struct hbk_node *node,
                                               const char *path)
{
    while (node != NULL && *path != '\0') {
        char name[64];
        const size_t length = strcspn(path, ".");
        assert_true(length < sizeof(name));
        memcpy(name, path, length);
        name[length] = '\0';
        path += length + (path[length] == '.' ? 1 : 0);
        if (node->kind == HBK_LIST) {
            const size_t at = strtoul(name, NULL, 10);
            node = at < node->n ? &node->items[at] : NULL;
        } else {
            const struct hbk_entry *const entry =
                node->kind == HBK_MAP ? hbk_node_entry(node, name) : NULL;
            node = entry == NULL ? NULL : &entry->value;
        }
    }
    return node;
}

static inline const struct hbk_node *json_at(const struct hbk_node *node,
                                             const char *path)
{
    const struct hbk_node *const found = json_find(node, path);
    if (found == NULL) {
        print_error("there is no %s\n", path);
        fail();
    }
    return found;
}

static inline size_t json_count(const struct hbk_node *node, const char *path)
{
    return json_at(node, path)->n;
}

static inline void json_says(const struct hbk_node *node, const char *path,
                             const char *wanted)
{
    const struct hbk_node *const found = json_at(node, path);
    assert_int_equal(found->kind, HBK_SCALAR);
    assert_true(found->is_quoted);
    if (strcmp(found->text, wanted) != 0) {
        print_error("%s: ", path);
    }
    assert_string_equal(found->text, wanted);
}

/* A word of JSON without quotation marks: true, false, null. */
static inline void json_is(const struct hbk_node *node, const char *path,
                           const char *wanted)
{
    const struct hbk_node *const found = json_at(node, path);
    assert_int_equal(found->kind, HBK_SCALAR);
    assert_false(found->is_quoted);
    assert_string_equal(found->text, wanted);
}

/* A number as it was rounded to so many decimals. */
static inline void json_near(const struct hbk_node *node, const char *path,
                             double wanted, int decimals)
{
    const struct hbk_node *const found = json_at(node, path);
    assert_false(found->is_quoted);
    char *end = NULL;
    const double value = strtod(found->text, &end);
    if (*end != '\0' || end == found->text) {
        print_error("%s: %s\n", path, found->text);
        fail();
    }
    check_within(value, wanted, 0.5000001 * pow(10.0, -decimals), path,
                 __FILE__, __LINE__);
}

#endif
