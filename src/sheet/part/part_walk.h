#ifndef HBK_SHEET_PART_PART_WALK_H
#define HBK_SHEET_PART_PART_WALK_H

#include "page/pad.h"

/* Drawing and measuring words from the top down are one walk. */
struct hbk_part_walk {
    struct hbk_pad *pad;
    bool draw;
    double x, y, width; /* mm; y goes down with what is put */
};

/* A paragraph, or nothing for "". */
void hbk_part_paragraph(struct hbk_part_walk *walk, struct hbk_style style,
                        enum hbk_tag tag, const char *text);

#endif
