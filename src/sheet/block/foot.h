#ifndef HBK_SHEET_BLOCK_FOOT_H
#define HBK_SHEET_BLOCK_FOOT_H

#include "page/pad.h"

/*
 * The foot of a sheet: small print in two columns, what is known of the horn
 * at the left and what needs care at the right, under a thin rule. The columns
 * are as wide as their words ask for.
 */
struct hbk_foot {
    const char *left, *right; /* "" for none */
    double points;            /* 7.5 at least */
    double width;             /* mm */
};

double hbk_foot_height(const struct hbk_pad *pad, const struct hbk_foot *foot);
/* Draws it with its top left corner at (x, y). */
void hbk_foot_draw(struct hbk_pad *pad, const struct hbk_foot *foot, double x,
                   double y);

#endif
