#ifndef HBK_SHEET_ARTICLE_BESIDE_PAGE_H
#define HBK_SHEET_ARTICLE_BESIDE_PAGE_H

#include "engrave/staff.h"
#include "notes/beside.h"
#include "page/pad.h"

/*
 * What the page for a player of another horn shows and where; for the beside_*
 * files. Lengths in mm.
 */

/* From the edge of the paper, mm at unit 1: to the frame, to what it frames. */
#define HBK_BESIDE_EDGE 6.5
#define HBK_BESIDE_MARGIN 12.0

enum { HBK_BESIDE_PARTS = 4, HBK_BESIDE_SYSTEMS_MAX = 24 };

/* A note that this horn has, or should have. */
struct hbk_beside_column {
    int written;
    int read; /* as the player reads it */
    enum hbk_beside_note what;
    const char *here, *known; /* first choices; a dash for none */
    double x, width;          /* left edge */
};

/* Columns on one staff. */
struct hbk_beside_system {
    size_t first, n;
    double above, below; /* ink beyond the five lines, spaces */
};

/* A heading with the sentences under it. */
struct hbk_beside_part {
    const char *heading, *words;
    double x, width;
    struct hbk_lines lines;
};

struct hbk_beside_page {
    struct hbk_pad pad;
    const struct hbk_notes *here, *known;
    const struct hbk_sheet_options *options;
    struct hbk_paper_size paper;
    double s;        /* unit: 1 on A4 */
    double x, width; /* inside the margins */
    double y, end;   /* where the next thing goes, and the lowest it may */
    const char *coming, *warning;
    struct hbk_lines to; /* which horn, and for whom */

    size_t n;
    struct hbk_beside_column *columns;
    /* What most notes do, which bears no sign; HBK_BESIDE_NEITHER for none. */
    enum hbk_beside_note unmarked;
    bool has_sign; /* some note bears one */

    struct hbk_beside_part parts[HBK_BESIDE_PARTS];
    size_t across; /* parts side by side */
    double points; /* of the sentences */
    struct hbk_lines caption, legend, foot[2];

    size_t n_systems;
    struct hbk_beside_system systems[HBK_BESIDE_SYSTEMS_MAX];
    bool pairs;    /* both names of a half-tone side by side, both heads */
    double growth; /* of rows, numbers and staff; 1 as a rule */
    double space;  /* of the staff */
    double figure; /* the least number has so many points */
    double air;    /* what is left over, for each gap */
};

/* A style that never falls below so many points. */
struct hbk_style hbk_beside_style(const struct hbk_beside_page *page,
                                  enum hbk_face face, double points,
                                  double least);

/* Turns the page unless so much room is left. */
void hbk_beside_room(struct hbk_beside_page *page, double height);

/* Starts a page in its frame. */
void hbk_beside_begin(struct hbk_beside_page *page);
/* Where things begin on a further page. */
double hbk_beside_top(const struct hbk_beside_page *page);
/* Of titles, which shrink less on small paper than what is below them. */
double hbk_beside_title_unit(const struct hbk_beside_page *page);

#endif
