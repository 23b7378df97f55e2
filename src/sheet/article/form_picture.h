#ifndef HBK_SHEET_ARTICLE_FORM_PICTURE_H
#define HBK_SHEET_ARTICLE_FORM_PICTURE_H

#include "page/pad.h"

/*
 * A horn drawn straight, with a letter at each place where it is measured: a
 * keyed one with two of its keys and a hole cut through, or a valved one. The
 * letters are those of the tables.
 */
struct hbk_form_picture {
    bool has_keys; /* else valves */
    double unit;
    double width; /* mm */
};

double hbk_form_picture_height(const struct hbk_form_picture *picture);
void hbk_form_picture_draw(struct hbk_pad *pad,
                           const struct hbk_form_picture *picture, double x,
                           double y);

/* The letters, in the order of what is measured along the tube. */
#define HBK_FORM_PLACE "a"  /* distance from the receiver */
#define HBK_FORM_ACROSS "b" /* diameter there */
#define HBK_FORM_PULL "c"   /* how far a slide is out */
#define HBK_FORM_FROM_BELL "d"
#define HBK_FORM_HOLE "e" /* its diameter */
#define HBK_FORM_CHIMNEY "f"
#define HBK_FORM_LIFT "g"
#define HBK_FORM_AT "d" /* of a valve, from the receiver */
#define HBK_FORM_LOOP "e"
#define HBK_FORM_LOOP_BORE "f"

#endif
