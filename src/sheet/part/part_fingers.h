#ifndef HBK_SHEET_PART_PART_FINGERS_H
#define HBK_SHEET_PART_PART_FINGERS_H

#include "sheet/part/part_figure.h"

/*
 * What stands under the notes: fingerings as numbers on one baseline (of 10
 * points and more, underlined where they are not the usual ones), or
 * stacked one finger a line where they would push the notes apart, or as the
 * grid of the hands; below them that of a trill and other choices, each in a
 * line of its own; and the names of the sounding notes.
 */

/* Whether a fingering stands under an event. */
bool hbk_fingers_at(const struct hbk_fingers *fingers, size_t event);

/* Whether a cross stands there: out of reach of the horn. */
bool hbk_fingers_out(const struct hbk_fingers *fingers, size_t event);

/* The size of the grid beside a staff space of so many mm: discs of 3 mm and
 * more. */
struct hbk_cells_size hbk_fingers_size(const struct hbk_cells *cells,
                                       double space);

/* Widths by event in staff spaces, in the pad's arena. */
const double *hbk_fingers_widths(const struct hbk_fingers *fingers,
                                 const struct hbk_pad *pad, double space);

/* What is read out of all that stands under an event: "1-2, or 1-3". */
const char *hbk_fingers_said(const struct hbk_fingers *fingers, size_t event,
                             struct hbk_arena *arena);

/* Which marks are in use, for the legend. */
struct hbk_fingers_used {
    bool any, departure, hard, unreachable;
    bool trill, no_trill;
    size_t others; /* most other choices under one note */
    bool no_room;  /* for more of them */
};

/*
 * Draws them below all that the quill has drawn so far. `begins` and `ends`
 * (by event, may be NULL) receive the range of marks on the last page.
 */
struct hbk_fingers_used hbk_fingers_draw(const struct hbk_fingers *fingers,
                                         struct hbk_eng_view *view,
                                         size_t *begins, size_t *ends);

#endif
