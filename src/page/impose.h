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

/*
 * A booklet that is stitched through its back: two pages on each side of a
 * sheet, so that they follow each other when the sheets, printed on both sides
 * (turned over the short edge), are laid into each other and folded. Blank
 * pages are added at the end up to a multiple of four.
 */
struct hbk_folding {
    struct hbk_paper_size paper; /* of the sheet as it lies, two pages wide */
    /*
     * A page as large as the sheet, which stands over both pages in the middle
     * of the booklet, where no fold parts sheets; NULL for none. It comes
     * between the pages that are put in and has no number.
     */
    const struct hbk_page *middle;
};

/* How many pages there are with the blank ones, of `n` and the middle. */
size_t hbk_folded_pages(size_t n, bool has_middle);

/*
 * Adds the sides of all sheets to the pad's sheet: of each its front and back.
 * All of `pages` have half the width of the paper, and its height.
 */
void hbk_fold(struct hbk_pad *pad, const struct hbk_folding *how,
              const struct hbk_sheet *pages);

#endif
