#ifndef HBK_SHEET_ARTICLE_BESIDE_TABLE_H
#define HBK_SHEET_ARTICLE_BESIDE_TABLE_H

#include "sheet/article/beside_page.h"

/* The notes side by side. */
void hbk_beside_list(struct hbk_beside_page *page);
/* Over so many staves; false where the numbers or staff become too small. */
bool hbk_beside_lay_systems(struct hbk_beside_page *page, size_t n);
double hbk_beside_system_height(const struct hbk_beside_page *page,
                                const struct hbk_beside_system *system);
void hbk_beside_system_draw(struct hbk_beside_page *page,
                            const struct hbk_beside_system *system);

#endif
