#ifndef HBK_SHEET_BLOCK_SIGNS_H
#define HBK_SHEET_BLOCK_SIGNS_H

#include "page/pad.h"

/*
 * The small signs beside dots, and a legend that shows each sign before the
 * words that explain it.
 */

/* From this many cents on a sheet asks the lip for help. */
#define HBK_LIP_TOLD_CENTS 10.0

enum hbk_sign {
    HBK_SIGN_NONE,
    HBK_SIGN_LIP_UP,
    HBK_SIGN_LIP_DOWN,
    HBK_SIGN_CROSSING /* the curve under two figures */
};

/* The sign for a deviation: sharp asks for lip down, flat for lip up. */
enum hbk_sign hbk_sign_lip(double cents);

/* An arrow about `x`, its foot at y and as tall as `height`, mm. */
void hbk_sign_arrow(struct hbk_pad *pad, double x, double y, double height,
                    enum hbk_sign way);

/* A shallow curve that hangs from (x, y), `width` long, mm. */
void hbk_sign_curve(struct hbk_pad *pad, double x, double y, double width);

/* A sign with what it means. */
struct hbk_sign_words {
    enum hbk_sign sign;
    const char *words;
};

/* Entries follow each other in lines; a long one is broken. */
struct hbk_legend_lines {
    size_t n;
    const struct hbk_sign_words *entries;
    struct hbk_style style;
    double width; /* mm */
};

double hbk_signs_height(const struct hbk_pad *pad,
                        const struct hbk_legend_lines *legend);
/* Draws it with its top left corner at (x, y), mm. */
void hbk_signs_draw(struct hbk_pad *pad, const struct hbk_legend_lines *legend,
                    double x, double y);

#endif
