#ifndef HBK_SHEET_ARTICLE_SLIDE_PAGE_H
#define HBK_SHEET_ARTICLE_SLIDE_PAGE_H

#include "notes/slides.h"
#include "page/pad.h"

/*
 * The pages of a slide card, filled from the top: each part asks for room, and
 * goes onto the next page where there is none. Lengths in mm.
 */

enum { HBK_SLIDE_PAGES_MAX = 16 };

/* Rules at unit 1, mm; at no unit is one thinner than the thin one. */
#define HBK_SLIDE_THIN 0.13
#define HBK_SLIDE_THICK 0.42

struct hbk_slide_card {
    struct hbk_pad pad;
    const struct hbk_slides *slides;
    struct hbk_paper_size paper;
    const char *name;  /* of the horn, up to its first comma */
    const char *below; /* the rest of its name, and what written C sounds */
    const char *whom;  /* NULL for nobody */
    double unit;       /* 1 for sentences of 8.5 points */
    double x, width;   /* between the rules of the frame, with some air */
    double y;          /* where the next thing goes */
    double end;        /* the lowest it may reach */
    /* Of each page: gaps between parts, what they are widened by. */
    size_t gaps[HBK_SLIDE_PAGES_MAX];
    double air[HBK_SLIDE_PAGES_MAX];
    double left[HBK_SLIDE_PAGES_MAX]; /* free at the end of the page */
};

/* The first page, in its frame. */
void hbk_slide_page(struct hbk_slide_card *card);
/* A new page where `height` does not fit on this one. */
void hbk_slide_need(struct hbk_slide_card *card, double height);
/* Notes what is left of the last page, but for `height` at its foot. */
void hbk_slide_end(struct hbk_slide_card *card, double height);
/* White between two parts. */
void hbk_slide_gap(struct hbk_slide_card *card);
/* White within a part, none but where a page would be left empty. */
void hbk_slide_air(struct hbk_slide_card *card);
/* A paragraph over the whole width, aligned as its style says. */
void hbk_slide_paragraph(struct hbk_slide_card *card, struct hbk_style style,
                         const char *text);
double hbk_slide_paragraph_height(const struct hbk_slide_card *card,
                                  struct hbk_style style, const char *text);
/* A style of so many points at unit 1. */
struct hbk_style hbk_slide_style(const struct hbk_slide_card *card,
                                 enum hbk_face face, double points,
                                 enum hbk_align align);

#endif
