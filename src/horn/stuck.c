#include "horn/stuck.h"

bool hbk_stuck_any(const struct hbk_stuck *stuck)
{
    return (stuck->held_down | stuck->held_up | stuck->slides) != 0;
}
