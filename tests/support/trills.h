#ifndef HBK_TESTS_TRILLS_H
#define HBK_TESTS_TRILLS_H

#include "passage/trill.h"
#include "sheet/chart/chart.h"

/* The options with the trills of the notes, if the layout shows any. */
static inline struct hbk_sheet_options
with_trills(struct hbk_sheet_options options, enum hbk_layout layout,
            const struct hbk_notes *notes, struct hbk_arena *arena)
{
    if (hbk_layout_shows_trills(layout)) {
        options.trills = hbk_trills_of(notes, arena);
    }
    return options;
}

#endif
