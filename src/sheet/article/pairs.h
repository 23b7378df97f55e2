#ifndef HBK_SHEET_ARTICLE_PAIRS_H
#define HBK_SHEET_ARTICLE_PAIRS_H

#include "sheet/article/article.h"

/*
 * A table in an article, over as many pages as it takes: each row has
 * something at its left and two cells, side by side where there is room,
 * else one below the other. Lengths in mm.
 */
struct hbk_pairs {
    struct hbk_article *article;
    bool side_by_side;
    double left;    /* from the article's edge to the cells */
    double panel;   /* width of a cell */
    double gap;     /* between two cells */
    double row_pad; /* white in a row, half of it above the cells */
    /* The head: over what is at the left, or NULL; over each cell; over
     * both where they stand below each other. */
    const char *over_left, *over[2], *over_both;
    double indent; /* of the words over a cell */
    bool is_open;  /* a table has begun on this page */
};

/* What two cells of these heights take together. */
double hbk_pairs_height(const struct hbk_pairs *pairs, double first,
                        double second);

/*
 * Begins a row of that height: overleaf where it does not fit, and under a
 * head where it is the first of its page. Returns the top of its cells.
 */
double hbk_pairs_row(struct hbk_pairs *pairs, double height);

/* The top left corner of the second cell, below or beside the first. */
struct hbk_point hbk_pairs_second(const struct hbk_pairs *pairs, double y,
                                  double first);

/* Ends a row of that height with a rule. */
void hbk_pairs_row_end(struct hbk_pairs *pairs, double height);

/* Ends the table. */
void hbk_pairs_end(struct hbk_pairs *pairs);

#endif
