#ifndef HBK_PASSAGE_LIP_H
#define HBK_PASSAGE_LIP_H

#include <stdbool.h>

/* What the lip does between two notes, and how well each note is heard. */

/*
 * Going to another partial: our own choice, no source. As long as a finger
 * needs, for both are said to be the same risk.
 */
#define HBK_LIP_PARTIAL_S 0.070
/* Each partial that is passed on the way, as over a wide skip: our own. */
#define HBK_LIP_FURTHER_S 0.012
/*
 * Under a slur no tongue hides the change, so it must be made cleaner: our
 * own choice, no source.
 */
#define HBK_LIP_SLURRED 1.25

/* The time the lip needs from one partial to another; 0 on the same. */
double hbk_lip_least_s(unsigned from, unsigned to, bool slurred);

/*
 * How much of a note's deviation counts: length / (length + 0.1 s). Short
 * tones are judged less finely than long ones, most below a tenth of a
 * second (from memory); the form is our own choice, no source.
 */
#define HBK_LIP_HEARD_S 0.1
double hbk_lip_heard(double length_s);

#endif
