#ifndef HBK_TESTS_GRIP_H
#define HBK_TESTS_GRIP_H

#include "passage/move.h"

/* The cheapest grip of a press; false when the hands cannot make it. */
static inline bool cheapest_grip(const struct hbk_keywork *keywork,
                                 uint32_t press, struct hbk_grip *grip)
{
    struct hbk_grips grips;
    const bool can = hbk_grips_make(keywork, press, &grips);
    if (can) {
        *grip = grips.of[0];
    }
    return can;
}

#endif
