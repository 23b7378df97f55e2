#ifndef HBK_SHEET_BLOCK_HAND_H
#define HBK_SHEET_BLOCK_HAND_H

#include "horn/control.h"
#include "page/pad.h"

struct hbk_horn;

/*
 * The controls in the order of the fingers that work them: one row a hand,
 * left above right, thumb first and a little apart.
 */
struct hbk_spot {
    size_t control; /* index into horn->controls */
    enum hbk_finger finger;
    size_t row;
    double x; /* in pitches from the left end of its row's first spot */
};

struct hbk_hands {
    size_t n;
    struct hbk_spot spots[HBK_CONTROLS_MAX];
    size_t n_rows;  /* 0 without controls, else 1 or 2 */
    bool left[2];   /* whether the row is the left hand */
    uint32_t stuck; /* controls that cannot move; their spots are crossed */
    double width;   /* of the longest row between first and last spot */
};

/* The radius of the circle of a control, in pitches from one to the next. */
#define HBK_SPOT_RADIUS 0.39

void hbk_hands_arrange(const struct hbk_horn *horn, struct hbk_hands *hands);

/* How they stand, in words: "hand by hand, left above right, thumb first". */
const char *hbk_hands_order(const struct hbk_hands *hands);

/*
 * One control: a circle, filled when pressed. A key that stands open is a
 * square, so that it tells itself apart at rest and pressed; a valve whose
 * loop is in at rest is a double circle.
 */
void hbk_spot_draw(struct hbk_pad *pad, const struct hbk_control *control,
                   double x, double y, double radius, bool pressed);

/* A cross over a spot that no finger can move. */
void hbk_spot_cross(struct hbk_pad *pad, double x, double y, double radius);

/* All of them about `centre`, rows `pitch` apart, the first at y. */
void hbk_hands_draw(struct hbk_pad *pad, const struct hbk_horn *horn,
                    const struct hbk_hands *hands, double centre, double y,
                    double pitch, uint32_t press);

#endif
