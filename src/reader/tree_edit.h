#ifndef HBK_READER_TREE_EDIT_H
#define HBK_READER_TREE_EDIT_H

#include "horn/change.h"
#include "reader/tree.h"

/*
 * A tree with some of its numbers changed. Nothing of the old tree is
 * touched; the new one shares what is the same.
 */
struct hbk_node hbk_tree_edit(const struct hbk_node *root,
                              const struct hbk_horn_changes *changes,
                              struct hbk_arena *arena);

/* A map with that entry put in, or in place of the one of that name. */
struct hbk_node hbk_tree_with(const struct hbk_node *map, const char *name,
                              struct hbk_node value, struct hbk_arena *arena);

/* A scalar; `is_quoted` for text that must not be taken for a number. */
struct hbk_node hbk_tree_scalar(const char *text, bool is_quoted);

#endif
