#ifndef HBK_SHEET_BLOCK_HEADING_H
#define HBK_SHEET_BLOCK_HEADING_H

#include "page/pad.h"

/* The line at the head of a page that goes on. */

/* What it takes with the white below it, in mm. */
double hbk_running_head_height(double unit);
/* Draws it from (x, y) down: the title, cut if it is too long, and the page. */
void hbk_running_head_draw(struct hbk_pad *pad, const char *title,
                           const char *page, double unit, double x, double y,
                           double width);

#endif
