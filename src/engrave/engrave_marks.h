#ifndef HBK_ENGRAVE_ENGRAVE_MARKS_H
#define HBK_ENGRAVE_ENGRAVE_MARKS_H

#include "engrave/engrave.h"

/* What tells how a note is played: beside its head. */
void hbk_eng_draw_near_marks(struct hbk_eng_view *view,
                             const struct hbk_eng_note *note);
/* Fermata, trill: above everything drawn so far. */
void hbk_eng_draw_far_marks(struct hbk_eng_view *view,
                            const struct hbk_eng_note *note);

#endif
