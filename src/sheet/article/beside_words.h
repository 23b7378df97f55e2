#ifndef HBK_SHEET_ARTICLE_BESIDE_WORDS_H
#define HBK_SHEET_ARTICLE_BESIDE_WORDS_H

#include "sheet/article/beside_page.h"

/* The words: parts, caption, legend and foot. */
void hbk_beside_write(struct hbk_beside_page *page);
/* Breaks the parts into lines of page->points, page->across side by side. */
void hbk_beside_lay_parts(struct hbk_beside_page *page);
/* All the words above the table; the tallest row of parts. */
double hbk_beside_words_height(const struct hbk_beside_page *page);
double hbk_beside_parts_row(const struct hbk_beside_page *page);
double hbk_beside_foot_height(const struct hbk_beside_page *page);
void hbk_beside_words_draw(struct hbk_beside_page *page);
void hbk_beside_foot_draw(struct hbk_beside_page *page);

#endif
