#ifndef HBK_TUNE_MELODY_ORDER_H
#define HBK_TUNE_MELODY_ORDER_H

#include <stdbool.h>
#include <stddef.h>

/*
 * The order in which the bars of a tune are played: repeats and endings, D.C.,
 * D.S., Fine and Coda, and the order of parts of ABC. hbk_build_finish()
 * finds it.
 */

enum {
    HBK_ORDER_BARS_MAX = 500000, /* with all repeats */
    HBK_ORDER_JUMPS_MAX = 64,    /* D.C. and D.S. that are followed */
    HBK_ORDER_PARTS_MAX = 1000   /* in the order of parts of ABC */
};

/* How the player comes to a stretch. */
enum hbk_tune_way {
    HBK_WAY_BEGIN,  /* the tune begins with it */
    HBK_WAY_REPEAT, /* back, to play a section again */
    HBK_WAY_ENDING, /* past endings that are for other times */
    HBK_WAY_JUMP,   /* D.C. or D.S. */
    HBK_WAY_CODA,   /* from To Coda to the coda */
    HBK_WAY_PART    /* a part, as the order of parts says */
};

/* Bars that are played one after the other as they are written. */
struct hbk_tune_stretch {
    size_t first, last; /* bars, both included */
    enum hbk_tune_way way;
    unsigned signs; /* HBK_WAY_JUMP: what the sign says (tune/melody/bar.h) */
    char part; /* HBK_WAY_PART: its letter; 0 for what precedes the first */
};

struct hbk_tune_order {
    size_t n;
    const struct hbk_tune_stretch *stretches;
    bool too_long; /* more than HBK_ORDER_BARS_MAX bars: n is 0 */
    /* Repeats after a D.C. or D.S. were left out, as is the custom. */
    bool repeats_left_out;
};

#endif
