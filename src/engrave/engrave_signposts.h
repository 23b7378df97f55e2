#ifndef HBK_ENGRAVE_ENGRAVE_SIGNPOSTS_H
#define HBK_ENGRAVE_ENGRAVE_SIGNPOSTS_H

#include "engrave/engrave.h"

/*
 * What leads through the music, above all that is drawn so far: fermatas over
 * bar lines, segno, coda and the words of jumps, tempos, rehearsal letters.
 */
void hbk_eng_draw_signposts(struct hbk_eng_view *view);

#endif
