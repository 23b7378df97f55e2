#include "sheet/primer/primer_table.h"

#include "sheet/words/words_said.h"

#include <math.h>

/* mm at unit 1. */
static const double padding = 1.2;
static const double pen = 0.15;
static const double thick = 0.3;

/* A table while it is drawn. */
struct drawing {
    struct hbk_booklet *booklet;
    const struct hbk_booklet_table *table;
    struct hbk_style style, head;
};

static double width_of(const struct drawing *d, size_t column)
{
    return d->table->shares[column] * d->booklet->article.width;
}

static struct hbk_lines lines_of(const struct drawing *d,
                                 struct hbk_style style, size_t column,
                                 const char *text)
{
    return hbk_pad_wrap(
        &d->booklet->article.pad, style,
        width_of(d, column) - 2.0 * hbk_booklet_mm(d->booklet, padding), text);
}

static double row_height(const struct drawing *d, struct hbk_style style,
                         const char *const cells[])
{
    double tall = 0.0;
    for (size_t c = 0; c < d->table->n_columns; c++) {
        const struct hbk_lines lines = lines_of(d, style, c, cells[c]);
        tall = fmax(tall, (double)lines.n * hbk_article_line(style));
    }
    return fmax(tall + 2.0 * hbk_booklet_mm(d->booklet, padding),
                hbk_booklet_mm(d->booklet, d->table->least));
}

static void draw_rule(const struct drawing *d, double width)
{
    struct hbk_article *const article = &d->booklet->article;
    article->pad.group = 0;
    hbk_pad_line(&article->pad, article->x, article->y, article->width, 0.0,
                 width);
}

/* A cell is read out with its sharps and flats in words. */
static void draw_cell(const struct drawing *d, struct hbk_style style,
                      enum hbk_tag tag, size_t column, double x,
                      const char *text)
{
    struct hbk_article *const article = &d->booklet->article;
    struct hbk_pad *const pad = &article->pad;
    const double inset = hbk_booklet_mm(d->booklet, padding);
    hbk_pad_group(pad);
    hbk_pad_open(pad, tag);
    if (text[0] == '\0') {
        hbk_pad_say(pad, x + inset, article->y + inset + style.size, "blank");
    } else {
        const struct hbk_lines lines = lines_of(d, style, column, text);
        hbk_pad_read_as(pad, hbk_words_said(pad->sheet->arena, text));
        hbk_pad_lines(pad, x + inset, article->y + inset + 0.8 * style.size,
                      style, hbk_article_line(style), &lines);
        hbk_pad_read_as(pad, NULL);
    }
    hbk_pad_close(pad, tag);
}

static void draw_row(const struct drawing *d, struct hbk_style style,
                     enum hbk_tag first, enum hbk_tag others,
                     const char *const cells[])
{
    struct hbk_article *const article = &d->booklet->article;
    const double tall = row_height(d, style, cells);
    hbk_pad_open(&article->pad, HBK_TAG_ROW);
    double x = article->x;
    for (size_t c = 0; c < d->table->n_columns; c++) {
        draw_cell(d, style, c == 0 ? first : others, c, x, cells[c]);
        x += width_of(d, c);
    }
    hbk_pad_close(&article->pad, HBK_TAG_ROW);
    article->y += tall;
    draw_rule(d, pen);
}

static void open_table(const struct drawing *d)
{
    hbk_pad_open(&d->booklet->article.pad, HBK_TAG_TABLE);
    draw_rule(d, thick);
    draw_row(d, d->head, HBK_TAG_COLUMN, HBK_TAG_COLUMN, d->table->heads);
}

static struct drawing begin(struct hbk_booklet *booklet,
                            const struct hbk_booklet_table *table)
{
    struct drawing d = {.booklet = booklet,
                        .table = table,
                        .style = hbk_booklet_body(booklet),
                        .head = hbk_booklet_italic(booklet)};
    d.style.size = fmax(0.94 * d.style.size, HBK_PT(8.5));
    d.head.size = d.style.size;
    return d;
}

static double height_of(const struct drawing *d)
{
    const struct hbk_booklet_table *const table = d->table;
    double all = row_height(d, d->head, table->heads);
    for (size_t r = 0; r < table->n_rows; r++) {
        all += row_height(d, d->style, table->cells + (r * table->n_columns));
    }
    return all;
}

double hbk_booklet_table_height(struct hbk_booklet *booklet,
                                const struct hbk_booklet_table *table)
{
    const struct drawing d = begin(booklet, table);
    return height_of(&d);
}

void hbk_booklet_table(struct hbk_booklet *booklet,
                       const struct hbk_booklet_table *table)
{
    struct hbk_article *const article = &booklet->article;
    const struct drawing d = begin(booklet, table);
    const double all = height_of(&d);
    if (all <= article->end - article->top) {
        hbk_booklet_room(booklet, all);
    }
    for (size_t r = 0; r < table->n_rows; r++) {
        const char *const *const cells = table->cells + (r * table->n_columns);
        const double tall = row_height(&d, d.style, cells);
        if (r == 0) {
            hbk_booklet_room(booklet,
                             row_height(&d, d.head, table->heads) + tall);
            open_table(&d);
        } else if (article->y + tall > article->end + 1e-9) {
            hbk_pad_close(&article->pad, HBK_TAG_TABLE);
            hbk_article_turn(article);
            open_table(&d);
        }
        draw_row(&d, d.style, HBK_TAG_HEADER, HBK_TAG_CELL, cells);
    }
    if (table->n_rows > 0) {
        hbk_pad_close(&article->pad, HBK_TAG_TABLE);
    }
    article->y += hbk_booklet_mm(booklet, 3.0);
}
