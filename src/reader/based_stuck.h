#ifndef HBK_READER_BASED_STUCK_H
#define HBK_READER_BASED_STUCK_H

#include "horn/control.h"
#include "horn/slide.h"
#include "reader/tree.h"

enum {
    HBK_STUCK_COLUMNS_MAX = 200, /* of one text of `stuck` */
    HBK_STUCK_ITEMS_MAX = HBK_CONTROLS_MAX + HBK_SLIDES_MAX
};

/*
 * What is stuck in a horn based on another: the items of the older one that
 * the newer neither names nor removes, then those of the newer, as one list.
 *
 * older, newer  the two files, each a mapping
 * arena         receives the list
 * joined        the two put together; its `stuck`, if any, is replaced
 *
 * What is no sound list of texts is left for the reader to refuse.
 */
void hbk_based_stuck(const struct hbk_node *older, const struct hbk_node *newer,
                     struct hbk_arena *arena, struct hbk_node *joined);

#endif
