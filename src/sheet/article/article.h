#ifndef HBK_SHEET_ARTICLE_ARTICLE_H
#define HBK_SHEET_ARTICLE_ARTICLE_H

#include "notes/notes.h"
#include "page/pad.h"
#include "sheet/block/title.h"

/*
 * A sheet that is written from the top of a page to its end and goes on
 * overleaf: paragraphs, and whatever else asks for room. Further pages have
 * a running head. Lengths in mm.
 */
/* White on a page that may grow where the page ends before its foot. */
struct hbk_article_gap {
    size_t first; /* mark after it */
    double most;  /* by which it grows, mm */
};
enum { HBK_ARTICLE_GAPS = 64 };

struct hbk_article {
    struct hbk_pad pad;
    struct hbk_paper_size paper;
    double unit;       /* 1 for body text of 8.5 pt */
    const char *title; /* in running heads and names of further pages */
    double x, width;
    double y;      /* where the next thing goes */
    double end;    /* the lowest it may reach */
    double top;    /* of the page, below its head: nothing stands there yet */
    double spread; /* how far every gap may grow; 0 on most sheets */
    size_t n_gaps;
    struct hbk_article_gap gaps[HBK_ARTICLE_GAPS];
};

/* The unit that suits a paper. */
double hbk_article_unit(enum hbk_paper paper);

/*
 * Starts the article with a page of its own in a sheet.
 *
 * paper   as it lies
 * sheet   its title is set; the first page is called by it
 * title   copied; for the running heads of further pages
 */
void hbk_article_begin(struct hbk_article *article, struct hbk_sheet *sheet,
                       const struct hbk_ruler *ruler,
                       struct hbk_paper_size paper, double unit,
                       const char *title);

/* Begins a further sheet on a page of its own, without a running head. */
void hbk_article_page(struct hbk_article *article);
/* Goes on overleaf, with a running head. */
void hbk_article_turn(struct hbk_article *article);
/* Turns the page unless so much room is left, or nothing stands on it yet. */
void hbk_article_room(struct hbk_article *article, double height);
/* White space, left out at the top of a page; it may grow by `spread`. */
void hbk_article_gap(struct hbk_article *article, double height);
/* What follows may stand so much lower, where its page is not full. */
void hbk_article_stretch(struct hbk_article *article, double most);

/* The title of an engraved page, across the article; it goes on below. */
void hbk_article_title(struct hbk_article *article,
                       const struct hbk_title *title);

/* No letter is smaller. */
#define HBK_ARTICLE_POINTS 7.5

/* A style of this article, `points` at unit 1. */
struct hbk_style hbk_article_style(const struct hbk_article *article,
                                   enum hbk_face face, double points);

/* From line to line of a table's cell. */
double hbk_article_line(struct hbk_style style);

/* A paragraph, over as many pages as it takes; nothing for "". */
void hbk_article_paragraph(struct hbk_article *article, struct hbk_style style,
                           const char *text);

/* At its end: what is known of the horn, and the cautions. */
void hbk_article_foot(struct hbk_article *article,
                      const struct hbk_notes *notes);

#endif
