#ifndef HBK_SHEET_ARTICLE_SLIDE_NOTES_H
#define HBK_SHEET_ARTICLE_SLIDE_NOTES_H

#include "sheet/article/slide_page.h"

/* The notes that are still off, in columns as on a plate; what is missing. */
void hbk_slide_notes_draw(struct hbk_slide_card *card);

#endif
