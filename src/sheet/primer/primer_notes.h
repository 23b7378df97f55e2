#ifndef HBK_SHEET_PRIMER_PRIMER_NOTES_H
#define HBK_SHEET_PRIMER_PRIMER_NOTES_H

#include "sheet/chart/strip.h"
#include "sheet/primer/primer_page.h"

/*
 * Notes with their diagrams, as the stand chart shows them (chart/strip.h):
 * name, staff, figure, and the fingers by the hand.
 */
struct hbk_booklet_notes {
    struct hbk_strip strip;
    struct hbk_strip_run run;
    double width, height; /* mm */
};

enum { HBK_BOOKLET_NOTES_MOST = 13 };

/*
 * n written notes within the compass, 1 to HBK_BOOKLET_NOTES_MOST, of cells no
 * wider than `cell` mm and no wider than `width` together.
 */
struct hbk_booklet_notes hbk_booklet_notes(struct hbk_booklet *booklet,
                                           const int written[], size_t n,
                                           double cell, double width);

void hbk_booklet_notes_draw(struct hbk_booklet *booklet,
                            const struct hbk_booklet_notes *notes,
                            struct hbk_point at);

#endif
