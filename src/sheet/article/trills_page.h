#ifndef HBK_SHEET_ARTICLE_TRILLS_PAGE_H
#define HBK_SHEET_ARTICLE_TRILLS_PAGE_H

#include "sheet/article/article.h"
#include "sheet/article/trill_cell.h"
#include "sheet/block/head.h"
#include "sheet/block/signs.h"

/* The sheet of trills as it is laid out. Private to trills*.c. */

enum { HBK_TRILLS_HALVES = 2, HBK_TRILLS_ROWS_MAX = 128 };

/* Of the sign in the head, mm: no dot is smaller. */
#define HBK_TRILLS_SIGN_RADIUS 1.6
/* Points of the smallest sentence. */
#define HBK_TRILLS_SENTENCE 8.5

/*
 * Notes that stand beside each other, of those shown, with both half-strips or,
 * where a page is too low for both, with one.
 */
struct hbk_trills_row {
    size_t first, n;
    size_t half, n_halves; /* from which on, and how many */
    double above, below;   /* spaces beyond the staff */
};

/* The two trills of a note. */
struct hbk_trills_both {
    struct hbk_trill_cell half[HBK_TRILLS_HALVES];
};

struct hbk_trills_page {
    struct hbk_article article;
    const struct hbk_notes *notes;
    const struct hbk_sheet_options *options;
    struct hbk_trill_look look;
    struct hbk_head head;
    struct hbk_legend_lines legend;
    const char *facts; /* how the horn is set, and care: the foot */
    double label;
    size_t n; /* notes that are shown */
    struct hbk_trills_both *cells;
    size_t n_rows;
    struct hbk_trills_row rows[HBK_TRILLS_ROWS_MAX];
};

/* What the signs mean, of those that are shown. */
void hbk_trills_set_legend(struct hbk_trills_page *trills);
/* The name of the horn, what written C sounds, and the sign of a trill. */
void hbk_trills_set_head(struct hbk_trills_page *trills);
/* How the horn is set, and care: the foot. */
void hbk_trills_set_facts(struct hbk_trills_page *trills);

#endif
