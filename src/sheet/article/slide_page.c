#include "sheet/article/slide_page.h"

#include "sheet/block/frame.h"
#include "sheet/block/title.h"

/* At unit 1, mm. */
static const double inside = 2.6; /* from the thin rule to the words */
static const double part_gap = 2.2;
static const double line_share = 1.28;

static double outer_rule(const struct hbk_slide_card *card)
{
    return card->paper.margin + 0.3 * card->unit;
}

/* The number of the last page, from 0. */
static size_t page_index(const struct hbk_slide_card *card)
{
    const size_t n = card->pad.sheet->n_pages - 1;
    return n < HBK_SLIDE_PAGES_MAX ? n : HBK_SLIDE_PAGES_MAX - 1;
}

void hbk_slide_page(struct hbk_slide_card *card)
{
    const double u = card->unit;
    const struct hbk_page_frame frame = {.width = card->paper.width,
                                         .height = card->paper.height,
                                         .edge = outer_rule(card),
                                         .unit = 0.8 * u};
    hbk_pad_page(&card->pad, card->paper, card->pad.sheet->title);
    hbk_page_frame_draw(&card->pad, &frame);
    card->x = outer_rule(card) + hbk_page_frame_depth(0.8 * u) + inside * u;
    card->width = card->paper.width - 2.0 * card->x;
    card->y = card->x;
    card->end = card->paper.height - card->x;
    card->gaps[page_index(card)] = 0;
}

/* Over the leaf the name alone says what it is. */
static void turn(struct hbk_slide_card *card)
{
    const double u = card->unit;
    card->left[page_index(card)] = card->end - card->y;
    hbk_slide_page(card);
    const struct hbk_style style =
        hbk_slide_style(card, HBK_FACE_CAPS, 11.0, HBK_CENTRE);
    const double centre = 0.5 * card->paper.width;
    hbk_pad_group(&card->pad);
    hbk_pad_open(&card->pad, HBK_TAG_PARAGRAPH);
    hbk_pad_text(&card->pad, centre, card->y + 0.7 * style.size,
                 hbk_pad_fit(&card->pad, style, card->width, 0.8, card->name),
                 hbk_pad_cut(&card->pad, style, card->width, card->name));
    hbk_pad_close(&card->pad, HBK_TAG_PARAGRAPH);
    hbk_pad_group(&card->pad);
    hbk_title_rule(&card->pad, centre, card->y + 4.4 * u, 32.0 * u, 0.6 * u);
    card->y += 7.0 * u;
}

void hbk_slide_need(struct hbk_slide_card *card, double height)
{
    if (card->y + height > card->end + 1e-9) {
        turn(card);
    }
}

void hbk_slide_air(struct hbk_slide_card *card)
{
    const size_t page = page_index(card);
    card->gaps[page]++;
    card->y += card->air[page];
}

void hbk_slide_gap(struct hbk_slide_card *card)
{
    card->y += part_gap * card->unit;
    hbk_slide_air(card);
}

struct hbk_style hbk_slide_style(const struct hbk_slide_card *card,
                                 enum hbk_face face, double points,
                                 enum hbk_align align)
{
    return hbk_style_of(face, points, card->unit, align);
}

double hbk_slide_paragraph_height(const struct hbk_slide_card *card,
                                  struct hbk_style style, const char *text)
{
    return hbk_pad_paragraph_height(&card->pad, style, line_share * style.size,
                                    card->width, text);
}

void hbk_slide_paragraph(struct hbk_slide_card *card, struct hbk_style style,
                         const char *text)
{
    if (text[0] == '\0') {
        return;
    }
    hbk_slide_need(card, hbk_slide_paragraph_height(card, style, text));
    card->y += hbk_pad_paragraph(
        &card->pad, HBK_TAG_PARAGRAPH, style, line_share * style.size,
        (struct hbk_point){card->x, card->y}, card->width, text);
}

void hbk_slide_end(struct hbk_slide_card *card, double height)
{
    card->left[page_index(card)] = card->end - height - card->y;
}
