#ifndef HBK_ENGRAVE_ENGRAVE_MARKS_H
#define HBK_ENGRAVE_ENGRAVE_MARKS_H

#include "engrave/engrave.h"

/* In words before the name of its note: "staccato ", or "". */
const char *hbk_eng_marks_said(struct hbk_arena *arena, unsigned marks);
/* What tells how a note is played: beside its head. */
void hbk_eng_draw_near_marks(struct hbk_eng_view *view,
                             const struct hbk_eng_note *note);
/* Fermata, trill: above everything drawn so far. */
void hbk_eng_draw_far_marks(struct hbk_eng_view *view,
                            const struct hbk_eng_note *note);

/* A fermata over that x, above everything; and half of its width. */
#define HBK_ENG_FERMATA_HALF 1.4
void hbk_eng_draw_fermata(struct hbk_quill *quill, double x);

#endif
