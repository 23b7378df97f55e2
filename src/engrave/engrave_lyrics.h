#ifndef HBK_ENGRAVE_ENGRAVE_LYRICS_H
#define HBK_ENGRAVE_ENGRAVE_LYRICS_H

#include "engrave/engrave.h"

/* Words that are sung, below the notes, a line for each verse. */

/*
 * How much room the syllables take, measured for a staff space of so many mm;
 * to be called before the music is spaced.
 */
void hbk_eng_measure_lyrics(struct hbk_engraving *eng,
                            const struct hbk_pad *pad, double space);

/* Draws them below all that is drawn so far, with hyphens and lines. */
void hbk_eng_draw_lyrics(struct hbk_eng_view *view);

#endif
