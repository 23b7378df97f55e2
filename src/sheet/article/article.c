#include "sheet/article/article.h"

#include "horn/horn.h"
#include "sheet/block/heading.h"
#include "sheet/words/words.h"

#include <math.h>
#include <string.h>

static const double leading = 1.3; /* of the em */
static const double column_gap = 6.0;
/* A rule under the last line of a page keeps within the margin. */
static const double rule_pen = 0.15;

double hbk_article_unit(enum hbk_paper paper)
{
    static const double units[HBK_PAPER_COUNT] = {[HBK_A4] = 1.0,
                                                  [HBK_A3] = 1.35,
                                                  [HBK_A5] = 0.86,
                                                  [HBK_A6] = 0.83,
                                                  [HBK_LETTER] = 1.0};
    return units[paper];
}

static const char *kind_of(const struct hbk_sheet *sheet)
{
    return sheet->kind == NULL ? "sheet" : sheet->kind;
}

/* What the sheet is called; further pages by the running head. */
static const char *page_label(const struct hbk_article *article)
{
    struct hbk_sheet *const sheet = article->pad.sheet;
    return sheet->n_pages == 0
               ? sheet->title
               : hbk_arena_printf(sheet->arena, "%s: %s, page %zu",
                                  article->title, kind_of(sheet),
                                  sheet->n_pages + 1);
}

void hbk_article_begin(struct hbk_article *article, struct hbk_sheet *sheet,
                       const struct hbk_ruler *ruler,
                       struct hbk_paper_size paper, double unit,
                       const char *title)
{
    *article = (struct hbk_article){
        .pad = {.sheet = sheet, .ruler = ruler},
        .paper = paper,
        .unit = unit,
        .title = hbk_arena_copy(sheet->arena, title, strlen(title)),
        .x = paper.margin,
        .width = paper.width - 2.0 * paper.margin,
        .y = paper.margin,
        .end = paper.height - paper.margin - rule_pen,
        .top = paper.margin};
    hbk_pad_page(&article->pad, paper, page_label(article));
}

/* Puts what the page has left into its gaps. */
static void fill_page(struct hbk_article *article)
{
    const struct hbk_page *const page = hbk_pad_last(&article->pad);
    double all = 0.0;
    for (size_t i = 0; i < article->n_gaps; i++) {
        /* One before what has turned the page has nothing to move. */
        all += article->gaps[i].first < page->n ? article->gaps[i].most : 0.0;
    }
    const double left = fmax(article->end - article->y, 0.0);
    const double share = left < all ? left / all : 1.0;
    for (size_t i = 0; i < article->n_gaps; i++) {
        hbk_pad_shift(&article->pad, article->gaps[i].first,
                      share * article->gaps[i].most);
    }
    article->n_gaps = 0;
}

void hbk_article_page(struct hbk_article *article)
{
    fill_page(article);
    hbk_pad_page(&article->pad, article->paper, page_label(article));
    article->top = article->paper.margin;
    article->y = article->top;
}

void hbk_article_turn(struct hbk_article *article)
{
    struct hbk_pad *const pad = &article->pad;
    struct hbk_arena *const arena = pad->sheet->arena;
    const size_t number = pad->sheet->n_pages + 1;
    fill_page(article);
    hbk_pad_page(pad, article->paper, page_label(article));
    hbk_running_head_draw(
        pad, article->title,
        hbk_arena_printf(arena, "%s, page %zu", kind_of(pad->sheet), number),
        article->unit, article->x, article->paper.margin, article->width);
    article->top =
        article->paper.margin + hbk_running_head_height(article->unit);
    article->y = article->top;
}

void hbk_article_room(struct hbk_article *article, double height)
{
    if (article->y + height > article->end + 1e-9 &&
        article->y > article->top + 1e-9) {
        hbk_article_turn(article);
    }
}

void hbk_article_gap(struct hbk_article *article, double height)
{
    if (article->y <= article->top + 1e-9) {
        return;
    }
    article->y += height;
    hbk_article_stretch(article, article->spread);
}

void hbk_article_stretch(struct hbk_article *article, double most)
{
    if (most > 0.0 && article->y > article->top + 1e-9 &&
        article->n_gaps < HBK_ARTICLE_GAPS) {
        article->gaps[article->n_gaps++] = (struct hbk_article_gap){
            .first = hbk_pad_last(&article->pad)->n, .most = most};
    }
}

struct hbk_style hbk_article_style(const struct hbk_article *article,
                                   enum hbk_face face, double points)
{
    return (struct hbk_style){
        .face = face,
        .size = HBK_PT(fmax(points * article->unit, HBK_ARTICLE_POINTS))};
}

double hbk_article_line(struct hbk_style style)
{
    return 1.25 * style.size;
}

/* Lines from `first` that fit above the end; draws them in a part. */
static size_t draw_lines(struct hbk_article *article, struct hbk_style style,
                         const struct hbk_lines *lines, size_t first,
                         enum hbk_tag tag)
{
    const double step = leading * style.size;
    const double room = (article->end - article->y) / step + 1e-9;
    const size_t left = lines->n - first;
    size_t n = room < 1.0 ? 0 : (size_t)room;
    n = n < left ? n : left;
    if (n == 0) {
        return 0;
    }
    const struct hbk_lines part = {n, lines->text + first, lines->widest};
    hbk_pad_block(&article->pad, tag, article->x, article->y + 0.8 * style.size,
                  style, step, &part);
    article->y += (double)n * step;
    return n;
}

static void flow(struct hbk_article *article, struct hbk_style style,
                 const char *text, enum hbk_tag tag)
{
    const struct hbk_lines lines =
        hbk_pad_wrap(&article->pad, style, article->width, text);
    size_t first = 0;
    while (first < lines.n) {
        const size_t drawn = draw_lines(article, style, &lines, first, tag);
        first += drawn;
        if (first < lines.n) {
            hbk_article_turn(article);
        }
    }
}

void hbk_article_title(struct hbk_article *article,
                       const struct hbk_title *title)
{
    /* A capital of the em's full height would still keep the margin. */
    article->y += 0.12 * HBK_PT(title->points) * title->unit;
    hbk_title_draw(&article->pad, title, article->x + 0.5 * article->width,
                   article->y, article->width);
    article->y += hbk_title_height(title);
}

void hbk_article_paragraph(struct hbk_article *article, struct hbk_style style,
                           const char *text)
{
    flow(article, style, text, HBK_TAG_PARAGRAPH);
}

/* One of the two columns of the foot; returns where it ends. */
static double foot_column(struct hbk_article *article, double x, double y,
                          const char *heading, const struct hbk_lines *lines)
{
    const struct hbk_style bold =
        hbk_article_style(article, HBK_FACE_BOLD, HBK_ARTICLE_POINTS);
    const struct hbk_style plain =
        hbk_article_style(article, HBK_FACE_PLAIN, HBK_ARTICLE_POINTS);
    const double step = leading * plain.size;
    hbk_pad_group(&article->pad);
    hbk_pad_open(&article->pad, HBK_TAG_HEADING);
    hbk_pad_text(&article->pad, x, y + 0.8 * bold.size, bold, heading);
    hbk_pad_close(&article->pad, HBK_TAG_HEADING);
    hbk_pad_open(&article->pad, HBK_TAG_PARAGRAPH);
    hbk_pad_lines(&article->pad, x, y + step + 0.8 * plain.size, plain, step,
                  lines);
    hbk_pad_close(&article->pad, HBK_TAG_PARAGRAPH);
    return y + (double)(lines->n + 1) * step;
}

static const char *all_known(struct hbk_arena *arena,
                             const struct hbk_notes *notes)
{
    const char *const remarks = hbk_words_remarks(arena, notes);
    return hbk_arena_printf(arena, "%s%s%s",
                            hbk_words_known(arena, notes->horn),
                            remarks[0] == '\0' ? "" : " ", remarks);
}

/* The two columns of the foot. */
struct foot {
    const char *known;
    double column, height;
    struct hbk_lines left, right;
};

static struct foot lay_foot(struct hbk_article *article,
                            const struct hbk_notes *notes)
{
    struct hbk_pad *const pad = &article->pad;
    const double u = article->unit;
    const struct hbk_style plain =
        hbk_article_style(article, HBK_FACE_PLAIN, HBK_ARTICLE_POINTS);
    struct foot foot = {.known = all_known(pad->sheet->arena, notes),
                        .column = 0.5 * (article->width - column_gap * u)};
    foot.left = hbk_pad_wrap(pad, plain, foot.column, foot.known);
    foot.right = hbk_pad_wrap(pad, plain, foot.column, hbk_words_cautions());
    const size_t most = foot.left.n > foot.right.n ? foot.left.n : foot.right.n;
    foot.height = leading * plain.size * (double)(most + 1) + 4.0 * u;
    return foot;
}

static const double foot_gap = 2.0;

void hbk_article_foot(struct hbk_article *article,
                      const struct hbk_notes *notes)
{
    static const char *const known_heading = "Sources";
    static const char *const care_heading = "Care";
    struct hbk_pad *const pad = &article->pad;
    const double u = article->unit;
    const struct hbk_style bold =
        hbk_article_style(article, HBK_FACE_BOLD, HBK_ARTICLE_POINTS);
    const struct hbk_style plain =
        hbk_article_style(article, HBK_FACE_PLAIN, HBK_ARTICLE_POINTS);
    const struct foot foot = lay_foot(article, notes);
    hbk_article_gap(article, foot_gap * u);
    if (foot.height >
        article->end - article->paper.margin - hbk_running_head_height(u)) {
        /* Longer than a page: one after the other, in full lines. */
        hbk_article_paragraph(article, bold, known_heading);
        hbk_article_paragraph(article, plain, foot.known);
        hbk_article_gap(article, 1.0 * u);
        hbk_article_paragraph(article, bold, care_heading);
        hbk_article_paragraph(article, plain, hbk_words_cautions());
        return;
    }
    hbk_article_room(article, foot.height);
    /* It belongs at the foot. */
    article->y = article->end - foot.height;
    hbk_pad_group(pad);
    hbk_pad_line(pad, article->x, article->y, article->width, 0.0, 0.25 * u);
    article->y += 1.6 * u;
    foot_column(article, article->x, article->y, known_heading, &foot.left);
    foot_column(article, article->x + foot.column + column_gap * u, article->y,
                care_heading, &foot.right);
    article->y = article->end;
}
