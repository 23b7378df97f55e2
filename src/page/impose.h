#ifndef HBK_PAGE_IMPOSE_H
#define HBK_PAGE_IMPOSE_H

#include "page/pad.h"

/*
 * Several copies of a small page on a large one, side by side and to be cut
 * apart: each page of `small` becomes one page of the pad's sheet, filled
 * with copies of it, so that fronts and backs meet when it is printed on
 * both sides. Short marks show where to cut: at the edges of the paper, and
 * a cross where four copies meet. They lie in the margins of the copies.
 */
struct hbk_imposition {
    struct hbk_paper_size paper;
    size_t across, down; /* copies; of one copy alone no cut is marked */
};

/* All pages of `small` have the size of a share of the paper. */
void hbk_impose(struct hbk_pad *pad, const struct hbk_imposition *how,
                const struct hbk_sheet *small);

#endif
