#ifndef HBK_ENGRAVE_ENGRAVE_OVER_H
#define HBK_ENGRAVE_ENGRAVE_OVER_H

#include "engrave/engrave.h"

/* Tuplets. */
void hbk_eng_draw_tuplets(struct hbk_eng_view *view);
/* Endings, tempo, the number of the first bar. */
void hbk_eng_draw_over(struct hbk_eng_view *view);

#endif
