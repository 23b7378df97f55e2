#ifndef HBK_NOTES_MOUTHPIECE_H
#define HBK_NOTES_MOUTHPIECE_H

#include <stddef.h>

/*
 * What another mouthpiece does to a horn in place of its own, slides and crook
 * as they are, in cents.
 */

enum { HBK_OCTAVES_MAX = 3 };

/* From one partial of the open horn to the one an octave above. */
struct hbk_octave_change {
    unsigned low, high; /* 2 and 4 */
    double cents;       /* how much wider that octave is; below 0 narrower */
};

struct hbk_mouthpiece_change {
    /* How far it moves the tuning note, before anything is drawn for it. */
    double pitch_cents;
    size_t n; /* octaves within the partials that players use */
    struct hbk_octave_change octaves[HBK_OCTAVES_MAX];
};

#endif
