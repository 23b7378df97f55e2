#ifndef HBK_TUNE_MELODY_SECTIONS_H
#define HBK_TUNE_MELODY_SECTIONS_H

#include "tune/melody/tune.h"

/*
 * A tune parted where repeats begin and end. A section is played once, or from
 * its first bar again and again; its endings are bars for certain times only.
 */
struct hbk_sections {
    const size_t *start;    /* by bar: the first of its section */
    const unsigned *times;  /* by first bar: how often it is played; 1 to 64 */
    const uint64_t *passes; /* by bar in an ending: bit n - 1 for the n-th
                               time; 0 outside endings */
    const size_t *end;      /* by first bar: the bar after its last */
};

struct hbk_sections hbk_sections_of(const struct hbk_tune *tune,
                                    struct hbk_arena *arena);

/* The last time through at which an ending is played; 0 for no bits. */
unsigned hbk_sections_last(uint64_t passes);

#endif
