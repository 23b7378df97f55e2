#ifndef HBK_ENGRAVE_ENGRAVE_RESTS_H
#define HBK_ENGRAVE_ENGRAVE_RESTS_H

#include "engrave/engrave.h"

/* Bars of rest that are written as one, with their number above. */

/*
 * How many bars from each bar of the tune on are written as one: 1 for a bar
 * that stands alone. As many as follow each other without a mark, a change of
 * key, meter or clef, a double bar, a repeat or an ending between them, but
 * no more than the source itself has in one.
 */
const size_t *hbk_eng_gather_rests(const struct hbk_engraving *eng);

/* The least room of such a bar. */
double hbk_eng_rests_room(const struct hbk_eng_note *rest);

/* The thick line between two strokes, as wide as the rest, and the number. */
void hbk_eng_draw_rests(struct hbk_eng_view *view,
                        const struct hbk_eng_note *rest);

#endif
