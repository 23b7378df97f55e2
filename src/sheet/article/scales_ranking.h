#ifndef HBK_SHEET_ARTICLE_SCALES_RANKING_H
#define HBK_SHEET_ARTICLE_SCALES_RANKING_H

#include "notes/scales.h"
#include "sheet/article/article.h"

/*
 * The ranking of all written keys with its measures, from the article's place
 * on: what lies well and badly, a row a key signature with its major and its
 * minor key, what the measures mean, and the foot of the sheet.
 */
void hbk_scales_ranking_draw(struct hbk_article *article,
                             const struct hbk_notes *notes,
                             const struct hbk_scales *scales);

#endif
