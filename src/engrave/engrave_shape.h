#ifndef HBK_ENGRAVE_ENGRAVE_SHAPE_H
#define HBK_ENGRAVE_ENGRAVE_SHAPE_H

#include "engrave/engrave.h"

/* The shape of one note. */

/* Sets what the value decides: head, its width, stem or none, flags. */
void hbk_eng_shape_head(struct hbk_eng_note *note, int value);
/* Room that an accidental takes left of its head, with the gap. */
double hbk_eng_sign_room(const struct hbk_eng_note *note);
/* y of the dots: in the space of the head, or the one above its line. */
double hbk_eng_dot_y(int pos);
/* How many ledger lines a head needs; negative below the staff. */
int hbk_eng_ledger_lines(int pos);
/* Length of a stem with so many flags or beams. */
double hbk_eng_stem_length(unsigned flags);
/* x of a note's stem, its middle, from the head's left edge. */
double hbk_eng_stem_x(const struct hbk_eng_note *note);

#endif
