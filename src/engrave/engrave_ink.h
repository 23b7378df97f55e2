#ifndef HBK_ENGRAVE_ENGRAVE_INK_H
#define HBK_ENGRAVE_ENGRAVE_INK_H

#include "engrave/engrave.h"
#include "engrave/quill.h"

/* A note with all that touches it; a beam after its notes. */
void hbk_eng_draw_note(struct hbk_eng_view *view, struct hbk_eng_note *note);
void hbk_eng_draw_beam(struct hbk_eng_view *view, struct hbk_eng_beam *beam);

/*
 * A small note as in a metronome mark, its head at a position; returns its
 * width. With a quill of NULL it is only measured.
 */
double hbk_eng_draw_beat(struct hbk_quill *quill, int value, unsigned dots,
                         double x, int pos);

#endif
