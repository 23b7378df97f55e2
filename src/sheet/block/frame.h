#ifndef HBK_SHEET_BLOCK_FRAME_H
#define HBK_SHEET_BLOCK_FRAME_H

#include "page/pad.h"

/*
 * The double rule about an engraved page, a thick one outside a thin one. It
 * belongs to a group of its own.
 */
struct hbk_page_frame {
    double width, height; /* of the page, mm */
    double edge;          /* from the edge of the page to the thick rule, mm */
    double unit;          /* 1 for a thick rule of 0.55 mm */
};

void hbk_page_frame_draw(struct hbk_pad *pad,
                         const struct hbk_page_frame *frame);

/* From the middle of the thick rule to the inner edge of the thin one, mm. */
double hbk_page_frame_depth(double unit);

#endif
