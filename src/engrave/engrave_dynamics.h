#ifndef HBK_ENGRAVE_ENGRAVE_DYNAMICS_H
#define HBK_ENGRAVE_ENGRAVE_DYNAMICS_H

#include "engrave/engrave.h"

/*
 * Dynamics, hairpins and words of expression, in rows beyond all that is
 * drawn so far: below the staff, but above where words are sung, or where the
 * source wants them so.
 */
void hbk_eng_draw_dynamics(struct hbk_eng_view *view, bool above);

#endif
