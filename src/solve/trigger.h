#ifndef HBK_SOLVE_TRIGGER_H
#define HBK_SOLVE_TRIGGER_H

#include "horn/horn.h"

/* Which controls of the horn are triggers, as a bit mask. */
uint32_t hbk_triggers(const struct hbk_horn *horn);

/*
 * How far the hand can draw the triggers that are pressed, m: the longest; 0
 * without. What is stuck held down counts as pressed.
 */
double hbk_trigger_throw_m(const struct hbk_horn *horn, uint32_t pressed);

#endif
