#ifndef HBK_READER_TREE_WRITE_H
#define HBK_READER_TREE_WRITE_H

#include "base/text.h"
#include "reader/tree.h"

/*
 * Writes a tree as YAML that reads back as the same tree: one name a line at
 * the top, mappings and lists that hold nothing but scalars in { } and [ ],
 * text in quotation marks only where it would be taken for something else.
 * Comments are not part of a tree, so there are none.
 *
 * Returns HBK_OK, or HBK_ERR_OUTPUT when libyaml fails (for want of memory);
 * `out` is then incomplete.
 */
enum hbk_status hbk_tree_write(const struct hbk_node *root,
                               struct hbk_text *out) HBK_MUST_CHECK;

#endif
