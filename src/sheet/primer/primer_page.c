#include "sheet/primer/primer_page.h"

#include <math.h>

/* Points at unit 1, and mm. */
static const double body_points = 11.0;
static const double chapter_points = 20.0;
static const double heading_points = 13.5;
static const double least_words = 8.5;
static const double leading = 1.3;
static const double chapter_rule = 0.35;
static const double below_words = 1.6;
static const double whole_words = 40.0; /* less stands on one page */
static const double above_heading = 3.0;
static const double below_heading = 1.0;

double hbk_booklet_mm(const struct hbk_booklet *booklet, double mm)
{
    return mm * booklet->article.unit;
}

static struct hbk_style style_of(const struct hbk_booklet *booklet,
                                 enum hbk_face face, double points)
{
    struct hbk_style style = hbk_article_style(&booklet->article, face, points);
    style.size = fmax(style.size, HBK_PT(least_words));
    return style;
}

struct hbk_style hbk_booklet_body(const struct hbk_booklet *booklet)
{
    return style_of(booklet, HBK_FACE_PLAIN, body_points);
}

struct hbk_style hbk_booklet_italic(const struct hbk_booklet *booklet)
{
    return style_of(booklet, HBK_FACE_ITALIC, body_points);
}

struct hbk_style hbk_booklet_heading_style(const struct hbk_booklet *booklet)
{
    return style_of(booklet, HBK_FACE_CAPS, heading_points);
}

void hbk_booklet_room(struct hbk_booklet *booklet, double height)
{
    hbk_article_room(&booklet->article, height);
}

/* A title in one style, no wider than the page, with `below` mm under it. */
static void put_title(struct hbk_booklet *booklet, enum hbk_tag tag,
                      struct hbk_style style, const char *text, double with)
{
    struct hbk_article *const article = &booklet->article;
    const double tall = hbk_pad_paragraph_height(
        &article->pad, style, 1.15 * style.size, article->width, text);
    /* What is longer than a page is broken anyway. */
    const double most = article->end - article->top - tall;
    hbk_booklet_room(booklet, tall + fmin(with, 0.9 * most));
    article->y += hbk_pad_paragraph(
        &article->pad, tag, style, 1.15 * style.size,
        (struct hbk_point){article->x, article->y}, article->width, text);
}

void hbk_booklet_chapter(struct hbk_booklet *booklet, const char *title,
                         double with)
{
    struct hbk_article *const article = &booklet->article;
    hbk_article_gap(article, hbk_booklet_mm(booklet, 6.0));
    put_title(booklet, HBK_TAG_HEADING,
              style_of(booklet, HBK_FACE_CAPS, chapter_points), title,
              with + hbk_booklet_mm(booklet, 4.0));
    hbk_pad_group(&article->pad);
    hbk_pad_line(&article->pad, article->x,
                 article->y + hbk_booklet_mm(booklet, 1.2), article->width, 0.0,
                 chapter_rule);
    article->y += hbk_booklet_mm(booklet, 4.0);
}

double hbk_booklet_heading_height(const struct hbk_booklet *booklet,
                                  const char *text)
{
    const struct hbk_style style = hbk_booklet_heading_style(booklet);
    return hbk_pad_paragraph_height(&booklet->article.pad, style,
                                    1.15 * style.size, booklet->article.width,
                                    text) +
           hbk_booklet_mm(booklet, above_heading + below_heading);
}

void hbk_booklet_heading(struct hbk_booklet *booklet, const char *text,
                         double with)
{
    hbk_article_gap(&booklet->article, hbk_booklet_mm(booklet, above_heading));
    put_title(booklet, HBK_TAG_HEADING, hbk_booklet_heading_style(booklet),
              text, with + hbk_booklet_mm(booklet, below_heading));
    booklet->article.y += hbk_booklet_mm(booklet, below_heading);
}

void hbk_booklet_words(struct hbk_booklet *booklet, const char *text)
{
    if (text[0] == '\0') {
        return;
    }
    const double tall = hbk_booklet_words_height(booklet, text);
    if (tall < hbk_booklet_mm(booklet, whole_words)) {
        hbk_booklet_room(booklet, tall - hbk_booklet_mm(booklet, below_words));
    }
    hbk_article_stretch(&booklet->article, hbk_booklet_mm(booklet, 1.0));
    hbk_article_paragraph(&booklet->article, hbk_booklet_body(booklet), text);
    booklet->article.y += hbk_booklet_mm(booklet, below_words);
}

double hbk_booklet_words_height(const struct hbk_booklet *booklet,
                                const char *text)
{
    const struct hbk_style body = hbk_booklet_body(booklet);
    return text[0] == '\0'
               ? 0.0
               : hbk_pad_paragraph_height(&booklet->article.pad, body,
                                          leading * body.size,
                                          booklet->article.width, text) +
                     hbk_booklet_mm(booklet, below_words);
}

double hbk_booklet_words_at(struct hbk_booklet *booklet, struct hbk_style style,
                            struct hbk_point at, double width, const char *text)
{
    return hbk_pad_paragraph(&booklet->article.pad, HBK_TAG_PARAGRAPH, style,
                             leading * style.size, at, width, text);
}
