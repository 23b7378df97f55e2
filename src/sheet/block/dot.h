#ifndef HBK_SHEET_BLOCK_DOT_H
#define HBK_SHEET_BLOCK_DOT_H

#include "page/pad.h"

#include <stdbool.h>

/*
 * The signs of a finger: everywhere a black dot with the control's number
 * means that a finger presses it. Radii in mm; centre at (x, y). All belong to
 * the pad's group.
 */

/* Below this radius a dot bears no number. */
#define HBK_DOT_NUMBERED 1.6

/* What a sheet calls a control: "1", "k1", "v1". */
struct hbk_dot {
    double x, y, radius;
    const char *label;
};

/* Pressed: black, the number in white. */
void hbk_dot_pressed(struct hbk_pad *pad, const struct hbk_dot *dot);

/* Pressed, but of a fingering that is unreliable: white with a black rim. */
void hbk_dot_doubtful(struct hbk_pad *pad, const struct hbk_dot *dot);

/*
 * The number in a ring, which names a control beside a row or on a drawing; a
 * second ring about it where the key is open at rest.
 */
void hbk_dot_name(struct hbk_pad *pad, const struct hbk_dot *dot,
                  bool open_at_rest);

/* Not pressed, where a place must be kept: a small ring. */
void hbk_dot_free(struct hbk_pad *pad, double x, double y, double radius);

/* A cross over what is stuck or missing. */
void hbk_dot_cross(struct hbk_pad *pad, double x, double y, double radius);

/*
 * The finger that trills, a wave above it: white when it begins up, black when
 * it begins down.
 */
void hbk_dot_trill(struct hbk_pad *pad, const struct hbk_dot *dot,
                   bool begins_down);

#endif
