#ifndef HBK_SHEET_BLOCK_CELLS_H
#define HBK_SHEET_BLOCK_CELLS_H

#include "horn/control.h"
#include "page/pad.h"

/*
 * The grid that follows the hands, as one looks at one's own: fingers are
 * rows, the thumb on top, and hands are columns, the left hand at the left. A
 * finger that neither hand uses has no row. Two keys of one finger stand side
 * by side; of more, each pair has a line of its own (of very many, more than a
 * pair, so that there are no more than HBK_CELLS_ROWS lines where that can be).
 * Every sheet that shows
 * fingers by the hand draws this grid, whatever its size.
 */

struct hbk_horn;

enum { HBK_CELLS_ABREAST = 2, HBK_CELLS_ROWS = 8 };

/* Where a control has its place; counted from 0. */
struct hbk_cell_spot {
    size_t control; /* index into horn->controls */
    size_t row;
    size_t hand;      /* column: 0, or 1 for the second of two hands */
    size_t place, of; /* in that row and hand: 0 of 1, 0 or 1 of 2, ... */
};

struct hbk_cells {
    const struct hbk_horn *horn; /* borrowed */
    uint32_t stuck;              /* controls to be crossed */
    size_t n;
    struct hbk_cell_spot spots[HBK_CONTROLS_MAX];
    size_t n_rows;                /* 0 without controls */
    int digits[HBK_CONTROLS_MAX]; /* of each row: 0 thumb to 4 little */
    size_t n_hands;               /* 0 to 2 */
    bool left[2];                 /* whether that column is the left hand */
    size_t abreast[2];            /* most controls side by side */
};

/* How large it is drawn, mm. */
struct hbk_cells_size {
    double width; /* of all hands */
    double row;   /* from one finger's row to the next */
    double most;  /* radius of a disc at most; 0: no limit */
};

/* Gives every control of the horn its place. `stuck`: those to be crossed. */
void hbk_cells_arrange(const struct hbk_horn *horn, uint32_t stuck,
                       struct hbk_cells *cells);

/* "thumb", ... of a row; "" for a further line of the same finger. */
const char *hbk_cells_finger(const struct hbk_cells *cells, size_t row);

/* Controls that stand side by side across all hands, the most. */
size_t hbk_cells_across(const struct hbk_cells *cells);
/* The smallest size whose discs have this radius. */
struct hbk_cells_size hbk_cells_least(const struct hbk_cells *cells,
                                      double radius);
/* Radius of the discs at a size. */
double hbk_cells_radius(const struct hbk_cells *cells,
                        const struct hbk_cells_size *size);
double hbk_cells_height(const struct hbk_cells *cells,
                        const struct hbk_cells_size *size);
/* Centre of a spot from the top left corner of the grid. */
struct hbk_point hbk_cells_at(const struct hbk_cells *cells,
                              const struct hbk_cells_size *size, size_t spot);
/* From the left end of the grid to that of a hand. */
double hbk_cells_hand(const struct hbk_cells *cells,
                      const struct hbk_cells_size *size, size_t hand);

/*
 * One press with its top left corner at `at`: black numbered discs where a
 * finger presses (white with a rim where the fingering is unreliable), small
 * rings where none does, crosses over what is stuck. A group of its own.
 */
void hbk_cells_draw(struct hbk_pad *pad, const struct hbk_cells *cells,
                    const struct hbk_cells_size *size, struct hbk_point at,
                    uint32_t press, bool doubtful);

/* L and R over the hands, baseline at y; a group of its own. */
void hbk_cells_letters(struct hbk_pad *pad, const struct hbk_cells *cells,
                       const struct hbk_cells_size *size, double x, double y,
                       struct hbk_style style);

/*
 * The map beside a grid: in the same rows the names of the fingers, `words`
 * wide, and then in the grid's own columns the numbers in rings, the ring
 * double where a key is open at rest.
 */
struct hbk_cells_map {
    struct hbk_style style; /* of the fingers */
    double words;
    struct hbk_cells_size size; /* of the numbers */
};

/* Room for the longest name of a finger in use, with the white after it. */
double hbk_cells_words(const struct hbk_pad *pad, const struct hbk_cells *cells,
                       struct hbk_style style);
/* Draws it with its top left corner at (x, y); a group of its own. */
void hbk_cells_map(struct hbk_pad *pad, const struct hbk_cells *cells,
                   const struct hbk_cells_map *map, double x, double y);

#endif
