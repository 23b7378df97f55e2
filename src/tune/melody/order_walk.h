#ifndef HBK_TUNE_MELODY_ORDER_WALK_H
#define HBK_TUNE_MELODY_ORDER_WALK_H

#include "tune/melody/order_signs.h"

/* A player on the way through a tune; of tune/melody/order_build.c. */
struct hbk_order_walk {
    struct hbk_build *build;
    const struct hbk_tune *tune;
    const struct hbk_sections *sections;
    const struct hbk_order_signs *signs; /* NULL: only repeats are followed */
    size_t section;                      /* its first bar */
    unsigned pass;                       /* through it, from 1 */
    bool once;       /* repeats are not taken: the last time through at once */
    unsigned forced; /* with `once`: the time through that is played, or 0 */
    size_t jump;     /* the D.C. or D.S. that is being followed, or NONE */
    size_t until;    /* the bar up to which its music was played before */
    size_t segno;    /* the bar it may leave as it goes "al Segno", or NONE */
    bool has_jumped, left_out; /* of this jump: a repeat was not taken */
    bool *taken;               /* by bar: its D.C. or D.S. was followed */
    size_t n_jumps, n_bars, n_steps;
    enum hbk_tune_way way; /* how it comes to the next bar */
    char part;
    struct hbk_tune_stretch *stretches;
    size_t n, room;
    bool too_long;
};

/* Plays the bars from `first` to before `end`; see walk->too_long. */
void hbk_order_play(struct hbk_order_walk *walk, size_t first, size_t end);

#endif
