#ifndef HBK_ENGRAVE_ENGRAVE_LINE_H
#define HBK_ENGRAVE_ENGRAVE_LINE_H

#include "engrave/engrave.h"

/* A whole line but for what stands below it. */
void hbk_eng_draw_line(struct hbk_eng_view *view);

#endif
