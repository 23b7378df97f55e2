#ifndef HBK_SHEET_PRIMER_PRIMER_PAGE_H
#define HBK_SHEET_PRIMER_PRIMER_PAGE_H

#include "sheet/article/article.h"
#include "sheet/primer/primer_given.h"

/* The pages of a primer while it is laid out: what its chapters share. */

struct hbk_booklet {
    struct hbk_article article;
    const struct hbk_primer *primer;
    const struct hbk_primer_options *options;
    bool has_plate;     /* the chart draws the instrument */
    double staff;       /* height of a staff, mm */
    uint64_t explained; /* signs of primer_signs.h that have been */
    size_t n_figured;   /* tunes that were printed by now */
};

/* mm of the page at unit 1. */
double hbk_booklet_mm(const struct hbk_booklet *booklet, double mm);

/* The styles of a primer. */
struct hbk_style hbk_booklet_body(const struct hbk_booklet *booklet);
struct hbk_style hbk_booklet_italic(const struct hbk_booklet *booklet);
struct hbk_style hbk_booklet_heading_style(const struct hbk_booklet *booklet);

/* Turns the page unless so much room is left. */
void hbk_booklet_room(struct hbk_booklet *booklet, double height);

/* Begins a chapter; it keeps `with` mm of what follows on its page. */
void hbk_booklet_chapter(struct hbk_booklet *booklet, const char *title,
                         double with);
/* A heading, likewise. */
void hbk_booklet_heading(struct hbk_booklet *booklet, const char *text,
                         double with);
/* What such a heading takes, with the white about it. */
double hbk_booklet_heading_height(const struct hbk_booklet *booklet,
                                  const char *text);
/* A paragraph with white below it; nothing for "". */
void hbk_booklet_words(struct hbk_booklet *booklet, const char *text);

/* What such a paragraph takes; 0 for "". */
double hbk_booklet_words_height(const struct hbk_booklet *booklet,
                                const char *text);

/* In the middle of some line: draws words from (x, y); returns the height. */
double hbk_booklet_words_at(struct hbk_booklet *booklet, struct hbk_style style,
                            struct hbk_point at, double width,
                            const char *text);

#endif
