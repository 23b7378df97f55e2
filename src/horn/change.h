#ifndef HBK_HORN_CHANGE_H
#define HBK_HORN_CHANGE_H

#include "base/fault.h"

#include <stdbool.h>
#include <stddef.h>

/* Numbers of a horn file that are to be written anew. */

enum { HBK_CHANGE_PATH_MAX = 4 };

struct hbk_horn_change {
    /*
     * From where the path counts: the mapping or number at this place of the
     * file, or the file itself for line 0.
     */
    struct hbk_place at;
    /*
     * Names of mappings, numbers of items (from "0") and, in lists of
     * mappings, "crook=A" for the one that has this; up to the first NULL.
     */
    const char *path[HBK_CHANGE_PATH_MAX + 1];
    const char *text; /* the number as the file shall have it */
    bool if_there;    /* only where the file has that name already */
};

struct hbk_horn_changes {
    size_t n;
    const struct hbk_horn_change *items;
    /*
     * Tube put in at a place of the axis: every 'at' of valves, triggers and
     * slides beyond it moves by so much, m, and what of the bore is assumed.
     * Holes have changes of their own.
     */
    double inserted_at_m, inserted_m;
};

#endif
