#ifndef HBK_READER_KIND_H
#define HBK_READER_KIND_H

#include "base/messages.h"
#include "reader/fields.h"

/*
 * The kinds of YAML files, told apart by their first line: the name of the
 * kind and the number of its format, as in "hornbook_order: 1". Private to
 * src/reader.
 */
struct hbk_kind {
    const char *name;         /* "hornbook_order" */
    const char *is;           /* "this is an order", for messages */
    const char *wanted;       /* "an order is" */
    const char *taker;        /* "'hornbook print' takes it" */
    enum hbk_message unknown; /* the message for any other format */
};

extern const struct hbk_kind hbk_kind_horn, hbk_kind_order, hbk_kind_readings;

/* All of them. */
enum { HBK_KINDS = 3 };
extern const struct hbk_kind *const hbk_kinds[HBK_KINDS];

/*
 * As hbk_tree_parse() and hbk_tree_read(), of a file of that kind. A file of
 * another kind, and a tune by the ending of its name, is refused with one
 * fault, that says what it is.
 */
enum hbk_status hbk_kind_parse(const struct hbk_kind *kind, const char *path,
                               const char *bytes, size_t length,
                               struct hbk_arena *arena, struct hbk_node *root,
                               struct hbk_faults *faults) HBK_MUST_CHECK;
enum hbk_status hbk_kind_read(const struct hbk_kind *kind, const char *path,
                              struct hbk_arena *arena, struct hbk_node *root,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

/* Reads the field of the kind itself; a fault without it, or for a format
 * that this program does not know. */
void hbk_kind_check(const struct hbk_kind *kind, const struct hbk_fields *top);

#endif
