#ifndef HBK_TUNE_MELODY_BAR_H
#define HBK_TUNE_MELODY_BAR_H

#include "base/fault.h"
#include "tune/melody/ratio.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * A bar of a line of music, with the repeats and endings at its ends. Times
 * are as in tune/melody/tune.h.
 */

enum hbk_tune_barline {
    HBK_TUNE_BAR_PLAIN,
    HBK_TUNE_BAR_DOUBLE,
    HBK_TUNE_BAR_FINAL, /* thin, thick */
    HBK_TUNE_BAR_THICK_THIN,
    HBK_TUNE_BAR_DOTTED,
    HBK_TUNE_BAR_INVISIBLE
};

struct hbk_tune_bar {
    const char *number; /* as the source numbers it; a token such as "12" */
    bool implicit;      /* a pickup, or the second half of a split bar */
    struct hbk_ratio onset, length;
    size_t first, count;         /* its events */
    enum hbk_tune_barline right; /* at its end */
    bool repeat_start;           /* a repeated section begins with it */
    unsigned repeat_end; /* how often the section that ends with it is played;
                            0 without a repeat, else 2 to 64 */
    const char *ending;  /* "1" or "1,3" if an ending begins with it, or NULL */
    uint64_t ending_passes; /* bit n - 1 set for the n-th time through */
    bool ending_stop;       /* an ending ends with it */
    bool segno, coda;       /* such a sign stands at its beginning */
    const char *jump;       /* "D.C. al Fine" or the like at its end; or NULL */
    /*
     * Of a bar of rest with which a rest of several bars begins that the source
     * writes as one: how many they are, 2 or more; else 0. The others follow
     * as bars of their own, with 0.
     */
    unsigned rests;
    struct hbk_place place;
};

#endif
