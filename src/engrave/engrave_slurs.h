#ifndef HBK_ENGRAVE_ENGRAVE_SLURS_H
#define HBK_ENGRAVE_ENGRAVE_SLURS_H

#include "engrave/engrave.h"

/* Ties and slurs, also those that go on to other lines. */
void hbk_eng_draw_slurs(struct hbk_eng_view *view);

#endif
