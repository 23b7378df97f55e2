#ifndef HBK_SHEET_ARTICLE_SLIDE_CARD_H
#define HBK_SHEET_ARTICLE_SLIDE_CARD_H

#include "notes/slides.h"
#include "page/pad.h"

/*
 * A card for the case: how far each slide is drawn, as a number and as a bar
 * of true size to hold against the slide; the main slides at other
 * temperatures; the notes that stay out of tune; limits and cautions. As
 * many pages as it needs, one for nearly every horn.
 *
 * slides    nothing of it is kept: text is copied
 * options   paper, title and for whom
 * sheet     zero-initialised but for its arena; receives the pages
 */
void hbk_sheet_slide_card(const struct hbk_slides *slides,
                          const struct hbk_sheet_options *options,
                          const struct hbk_ruler *ruler,
                          struct hbk_sheet *sheet);

#endif
