#ifndef HBK_SHEET_CHART_STRIP_ROWS_H
#define HBK_SHEET_CHART_STRIP_ROWS_H

#include "sheet/chart/strip.h"

/*
 * The notes of a chart in rows that begin at C, as its reader names them. One
 * or two notes below the first C join the first row, one or two at the top the
 * last; short rows are joined where a row holds an octave. None are joined only
 * to be parted again elsewhere.
 */
struct hbk_strip_rows {
    size_t n;
    const struct hbk_strip_run *runs; /* low to high */
    size_t longest;                   /* notes in a row */
};

/*
 * Breaks the shown notes; a row longer than `most` is parted evenly. `most` is
 * 1 or more. The rows live in the arena and borrow `all`.
 */
struct hbk_strip_rows hbk_strip_break(struct hbk_arena *arena,
                                      const struct hbk_notes *notes,
                                      const struct hbk_strip_run *all,
                                      size_t most);

/*
 * The narrowest cell that keeps discs of `radius`, names of half-tones stacked
 * and figures at their least sizes, mm.
 */
double hbk_strip_narrowest(const struct hbk_pad *pad,
                           const struct hbk_strip *strip,
                           const struct hbk_strip_run *all, double radius);
/*
 * Decides by the width of the cells whether half-tones stand in pairs, whether
 * "slide 20" needs its word taken out, and whether figures need their hyphens
 * taken out, which they can be only where every number has one letter. Returns
 * the staff space that the heads allow.
 */
double hbk_strip_settle(const struct hbk_pad *pad, struct hbk_strip *strip,
                        const struct hbk_strip_run *all);

#endif
