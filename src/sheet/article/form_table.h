#ifndef HBK_SHEET_ARTICLE_FORM_TABLE_H
#define HBK_SHEET_ARTICLE_FORM_TABLE_H

#include "page/pad.h"

/* Tables and lines to write in, with the names of fields. */

/* From rule to rule, where something is to be written; mm at unit 1. */
#define HBK_FORM_ROW 8.0

struct hbk_form_column {
    double width;      /* mm at unit 1 */
    const char *name;  /* of the field; "" for none */
    const char *below; /* in few words, what; "" for none */
    const char *print; /* in every cell, to be marked; NULL for a blank one */
};

struct hbk_form_table {
    const char *title; /* of the table, at its left; "" for none */
    size_t n_columns;
    const struct hbk_form_column *columns;
    size_t first, n_rows; /* rows from the number `first` on */
    bool is_numbered;     /* the first column bears the number of the row */
    double unit;
};

/* With its head, mm. */
double hbk_form_table_height(const struct hbk_form_table *table);
double hbk_form_table_width(const struct hbk_form_table *table);
/* How many rows stand in so much room, its head and title aside. */
size_t hbk_form_table_rows(const struct hbk_form_table *table, double room);
void hbk_form_table_draw(struct hbk_pad *pad,
                         const struct hbk_form_table *table, double x,
                         double y);

/* "name ______ mm": a line to write on. */
struct hbk_form_field {
    const char *name;
    double width;     /* of all of it, mm at unit 1 */
    const char *unit; /* behind it; "" for none */
};

/* Between two of a row, mm at unit 1. */
#define HBK_FORM_BETWEEN 4.0

/* A row of them from x on, the line at y. */
void hbk_form_fields_draw(struct hbk_pad *pad, size_t n,
                          const struct hbk_form_field *fields, double unit,
                          double x, double y);

#endif
