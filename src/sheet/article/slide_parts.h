#ifndef HBK_SHEET_ARTICLE_SLIDE_PARTS_H
#define HBK_SHEET_ARTICLE_SLIDE_PARTS_H

#include "sheet/article/slide_page.h"

/* What a slide card says of slides, each part from card->y downwards. */

/* How far to pull each slide, with a bar of true size; tuning bits. */
void hbk_slide_pulls_draw(struct hbk_slide_card *card);
/* What warmth does to the horn, and the main slides from cold to warm. */
void hbk_slide_warmths_draw(struct hbk_slide_card *card);

#endif
