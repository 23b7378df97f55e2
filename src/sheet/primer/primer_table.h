#ifndef HBK_SHEET_PRIMER_PRIMER_TABLE_H
#define HBK_SHEET_PRIMER_PRIMER_TABLE_H

#include "sheet/primer/primer_page.h"

/* A ruled table over the width of the page; it goes on overleaf. */

enum { HBK_BOOKLET_COLUMNS = 6 };

struct hbk_booklet_table {
    size_t n_columns; /* at most HBK_BOOKLET_COLUMNS */
    const char *heads[HBK_BOOKLET_COLUMNS];
    double shares[HBK_BOOKLET_COLUMNS]; /* of the width; together 1 */
    size_t n_rows;
    /* n_rows times n_columns; "" for a blank one, to be written in. */
    const char *const *cells;
    double least; /* height of a row at least, mm at unit 1 */
};

/* With its head, mm; to keep a heading with it. */
double hbk_booklet_table_height(struct hbk_booklet *booklet,
                                const struct hbk_booklet_table *table);

/* Whole on one page where that can be. */
void hbk_booklet_table(struct hbk_booklet *booklet,
                       const struct hbk_booklet_table *table);

#endif
