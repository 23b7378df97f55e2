#include "sheet/article/pairs.h"

#include <math.h>

/* In units of the article. */
static const double head_height = 6.4;

double hbk_pairs_height(const struct hbk_pairs *pairs, double first,
                        double second)
{
    return pairs->side_by_side ? fmax(first, second) : first + second;
}

static void header(struct hbk_pad *pad, double x, double y,
                   struct hbk_style style, const char *words)
{
    hbk_pad_open(pad, HBK_TAG_COLUMN);
    hbk_pad_text(pad, x, y, style, words);
    hbk_pad_close(pad, HBK_TAG_COLUMN);
}

static void draw_head(const struct hbk_pairs *pairs)
{
    struct hbk_article *const article = pairs->article;
    struct hbk_pad *const pad = &article->pad;
    const double u = article->unit;
    const double base = article->y + 4.0 * u;
    const double x = article->x + pairs->left + pairs->indent;
    const struct hbk_style style =
        hbk_article_style(article, HBK_FACE_BOLD, 8.5);
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_ROW);
    if (pairs->over_left != NULL) {
        header(pad, article->x, base, style, pairs->over_left);
    } else {
        hbk_pad_open(pad, HBK_TAG_COLUMN);
        hbk_pad_say(pad, article->x, base, "Signature");
        hbk_pad_close(pad, HBK_TAG_COLUMN);
    }
    if (pairs->side_by_side) {
        header(pad, x, base, style, pairs->over[0]);
        header(pad, x + pairs->panel + pairs->gap, base, style, pairs->over[1]);
    } else {
        header(pad, x, base, style, pairs->over_both);
    }
    hbk_pad_close(pad, HBK_TAG_ROW);
    article->y += head_height * u;
    hbk_pad_group(pad);
    hbk_pad_line(pad, article->x, article->y - 0.9 * u, article->width, 0.0,
                 0.3 * u);
}

double hbk_pairs_row(struct hbk_pairs *pairs, double height)
{
    struct hbk_article *const article = pairs->article;
    const double needed =
        height + (pairs->is_open ? 0.0 : head_height * article->unit);
    if (article->y + needed > article->end + 1e-9) {
        hbk_pairs_end(pairs);
        hbk_article_turn(article);
    }
    if (!pairs->is_open) {
        hbk_pad_open(&article->pad, HBK_TAG_TABLE);
        draw_head(pairs);
        pairs->is_open = true;
    }
    hbk_pad_open(&article->pad, HBK_TAG_ROW);
    return article->y + 0.5 * pairs->row_pad;
}

struct hbk_point hbk_pairs_second(const struct hbk_pairs *pairs, double y,
                                  double first)
{
    const double x = pairs->article->x + pairs->left;
    return pairs->side_by_side
               ? (struct hbk_point){x + pairs->panel + pairs->gap, y}
               : (struct hbk_point){x, y + first};
}

void hbk_pairs_row_end(struct hbk_pairs *pairs, double height)
{
    struct hbk_article *const article = pairs->article;
    struct hbk_pad *const pad = &article->pad;
    hbk_pad_close(pad, HBK_TAG_ROW);
    article->y += height;
    hbk_pad_group(pad);
    hbk_pad_line(pad, article->x, article->y, article->width, 0.0,
                 0.12 * article->unit);
}

void hbk_pairs_end(struct hbk_pairs *pairs)
{
    if (pairs->is_open) {
        hbk_pad_close(&pairs->article->pad, HBK_TAG_TABLE);
        pairs->is_open = false;
    }
}
