#ifndef HBK_ENGRAVE_SIGNATURE_H
#define HBK_ENGRAVE_SIGNATURE_H

#include "engrave/staff.h"

/*
 * The accidentals of a key at their usual places behind the clef, by common
 * engraving practice: from F C G D A E B sharps, from B E A D G C F flats.
 *
 * sharps   -7 to 7, flats negative
 * x        left end of the first
 */
void hbk_signature_draw(struct hbk_pad *pad, const struct hbk_staff *staff,
                        int sharps, double x);

/* The top of its ink above the lowest line, in staff spaces; 0 without. */
double hbk_signature_top(enum hbk_clef clef, int sharps);

#endif
