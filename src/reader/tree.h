#ifndef HBK_READER_TREE_H
#define HBK_READER_TREE_H

#include "base/arena.h"
#include "base/fault.h"

#include <stdbool.h>
#include <stddef.h>

/*
 * A YAML file as a tree of located nodes. What YAML can do beyond lists,
 * mappings and scalars is refused, so that a tree is what the file's author
 * sees: no aliases, anchors or tags, one document, no name given twice in
 * one mapping. Every place counts lines and columns (code points) from 1.
 */
enum hbk_node_kind { HBK_SCALAR, HBK_LIST, HBK_MAP };

struct hbk_node {
    enum hbk_node_kind kind;
    struct hbk_place place;
    bool is_faulty;      /* reported already (an alias): nothing more to say */
    bool is_quoted;      /* scalar: in quotation marks, or a block of text */
    const char *text;    /* scalar: never NULL, without NUL; else NULL */
    const char *comment; /* scalar: "#3 ..." that follows it; or NULL */
    size_t n;            /* list and map: how many */
    const struct hbk_node *items;    /* list */
    const struct hbk_entry *entries; /* map, in the order of the file */
};

struct hbk_entry {
    const char *name;
    struct hbk_place place; /* of the name */
    struct hbk_node value;
};

enum {
    HBK_TREE_DEPTH_MAX = 16,
    HBK_TREE_NODES_MAX = 20000, /* 2000 stations take 6000 */
    HBK_TREE_BYTES_MAX = 1024 * 1024
};

/*
 * Reads YAML text whose document is a mapping. A syntax error is one message
 * and the end. Faults that leave the rest readable (an alias, a name given
 * twice) are added and passed over: they make faults->errors rise, but a
 * tree is still returned, so that its other faults are found in the same run.
 *
 * path    how messages name the file; borrowed, must outlive the tree
 * arena   receives the tree
 * expects the line a file of this kind begins with, for messages
 *         ("hornbook: 1")
 * root    result, a mapping; on failure untouched
 *
 * Returns HBK_OK when there is a tree, or HBK_ERR_INPUT with an error added.
 */
enum hbk_status hbk_tree_parse(const char *path, const char *bytes,
                               size_t length, struct hbk_arena *arena,
                               const char *expects, struct hbk_node *root,
                               struct hbk_faults *faults) HBK_MUST_CHECK;

/* The same from a file ("-": standard input) of at most 1 MiB. */
enum hbk_status hbk_tree_read(const char *path, struct hbk_arena *arena,
                              const char *expects, struct hbk_node *root,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

/* The entry of that name in a mapping, or NULL. */
const struct hbk_entry *hbk_node_entry(const struct hbk_node *map,
                                       const char *name);

#endif
