#ifndef HBK_HORN_STUCK_H
#define HBK_HORN_STUCK_H

#include "horn/slide.h"

#include <stdbool.h>
#include <stdint.h>

/*
 * What cannot move. Controls are masks over the horn's controls, slides a
 * mask over its slides.
 */
struct hbk_stuck {
    uint32_t held_down; /* in their pressed state */
    uint32_t held_up;   /* in their rest state */
    uint32_t slides;
    double slide_out_m[HBK_SLIDES_MAX]; /* of a stuck slide, from home */
};

/* Whether anything is stuck. */
bool hbk_stuck_any(const struct hbk_stuck *stuck);

#endif
