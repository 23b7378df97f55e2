#ifndef HBK_SHEET_BLOCK_TUBE_H
#define HBK_SHEET_BLOCK_TUBE_H

#include "page/pad.h"
#include "sheet/block/unrolled.h"

/* The tube unrolled, as a block of a sheet. */

/* 0 when there is nothing to draw: no hole or loop, or no room for them. */
double hbk_unrolled_height(const struct hbk_pad *pad,
                           const struct hbk_unrolled *tube);
/* Draws it and returns its height. */
double hbk_unrolled_draw(struct hbk_pad *pad, const struct hbk_unrolled *tube,
                         double x, double y);

#endif
