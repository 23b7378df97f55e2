#ifndef HBK_READER_BASED_PROVENANCE_H
#define HBK_READER_BASED_PROVENANCE_H

#include "reader/tree.h"

/* How a file says that a part is taken over from another horn. */
#define HBK_WORD_OF_PATTERN "pattern"

/*
 * What is known of a horn that is based on another. Nobody measured this one
 * because the older was measured, so whatever the older file says of a part
 * becomes "pattern"; of a part that the newer file changes it is left out.
 */

/* The older horn with its provenance so changed, that of entries too. */
struct hbk_node hbk_based_older(const struct hbk_node *older,
                                const struct hbk_node *newer,
                                struct hbk_arena *arena);

/* The newer horn with what it does not say of the changed older one. */
struct hbk_node hbk_based_newer(const struct hbk_node *older,
                                const struct hbk_node *newer,
                                struct hbk_arena *arena);

#endif
