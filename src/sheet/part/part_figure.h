#ifndef HBK_SHEET_PART_PART_FIGURE_H
#define HBK_SHEET_PART_PART_FIGURE_H

#include "engrave/engrave.h"
#include "engrave/quill.h"
#include "sheet/block/cells.h"
#include "sheet/part/part.h"

/*
 * One fingering as it stands under a note, in the shape that all of the part
 * have. Lengths in staff spaces.
 */

enum hbk_fingers_shape {
    HBK_FINGERS_ROW,   /* 1-2 */
    HBK_FINGERS_STACK, /* 1 above 2 */
    HBK_FINGERS_CELLS  /* discs in the grid of sheet/block/cells.h */
};

/* What stands under all notes of a part, see sheet/part/part_fingers.h. */
struct hbk_fingers {
    const struct hbk_tune *tune;
    const struct hbk_part_fingering *fingerings; /* NULL for none */
    const struct hbk_horn *horn;
    struct hbk_cells cells;
    struct hbk_cells_size size; /* mm; see hbk_fingers_size() */
    double space;               /* of the staff, mm */
    enum hbk_fingers_shape shape;
    size_t most_others; /* so many further choices have room under a note */
    bool sounding;
    int sounds_higher_by;
    enum hbk_naming naming;
};

enum hbk_figure_kind {
    HBK_FIGURE_FIRST, /* the note's own */
    HBK_FIGURE_TRILL, /* after tr: of the upper note of its trill */
    HBK_FIGURE_OTHER  /* in parentheses: another choice */
};

struct hbk_figure {
    enum hbk_figure_kind kind;
    const char *label; /* NULL: a trill that this horn does not have */
    uint32_t press;
    double scale; /* 1, or less for a grace note */
};

/* `space` in mm; of fingers whose own space may not be set yet. */
double hbk_figure_width(const struct hbk_fingers *fingers,
                        const struct hbk_pad *pad, double space,
                        const struct hbk_figure *figure);
double hbk_figure_height(const struct hbk_fingers *fingers,
                         const struct hbk_figure *figure);
/* Draws it with its middle at x and its top at `top`. */
void hbk_figure_draw(const struct hbk_fingers *fingers, struct hbk_quill *quill,
                     const struct hbk_figure *figure, double x, double top);

/* The height of figures of a line. */
double hbk_figure_tall(const struct hbk_fingers *fingers);

/* What is read out where figures are no words: "trill to 1-2", "or 1-3". */
const char *hbk_figure_said(struct hbk_arena *arena,
                            const struct hbk_figure *figure);

#endif
