#ifndef HBK_SHEET_PART_PART_FINGERS_H
#define HBK_SHEET_PART_PART_FINGERS_H

#include "engrave/engrave.h"
#include "sheet/block/cells.h"
#include "sheet/part/part.h"

/*
 * What stands under the notes: fingerings as numbers on one baseline (of 10
 * points and more, underlined where they are not the usual ones), or
 * stacked one finger a line where they would push the notes apart, or as the
 * grid of the hands; and the names of the sounding notes.
 */
enum hbk_fingers_shape {
    HBK_FINGERS_ROW,   /* 1-2 */
    HBK_FINGERS_STACK, /* 1 above 2 */
    HBK_FINGERS_CELLS  /* discs in the grid of sheet/block/cells.h */
};

struct hbk_fingers {
    const struct hbk_tune *tune;
    const struct hbk_part_fingering *fingerings; /* NULL for none */
    const struct hbk_horn *horn;
    struct hbk_cells cells;
    struct hbk_cells_size size; /* mm; see hbk_fingers_size() */
    double space;               /* of the staff, mm */
    enum hbk_fingers_shape shape;
    bool sounding;
    int sounds_higher_by;
    enum hbk_naming naming;
};

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

/* Which marks are in use, for the legend. */
struct hbk_fingers_used {
    bool any, departure, hard, unreachable;
};

/*
 * Draws them below all that the quill has drawn so far. `begins` and `ends`
 * (by event, may be NULL) receive the range of marks on the last page.
 */
struct hbk_fingers_used hbk_fingers_draw(const struct hbk_fingers *fingers,
                                         struct hbk_eng_view *view,
                                         size_t *begins, size_t *ends);

#endif
