#ifndef HBK_TUNE_MELODY_LOST_H
#define HBK_TUNE_MELODY_LOST_H

#include "base/fault.h"
#include "tune/melody/tune.h"

/* What is lost where a tune is written anew, counted kind by kind. */

struct hbk_lost {
    struct hbk_arena *arena;
    size_t n, room;
    struct hbk_tune_left_out *kinds;
};

/* Counts so many of a kind, 0 for none; both names are borrowed. */
void hbk_lost_count(struct hbk_lost *lost, const char *one, const char *many,
                    size_t count);

/* Counts what the reader of a tune left out. */
void hbk_lost_count_left_out(struct hbk_lost *lost,
                             const struct hbk_tune *tune);

/* A warning that lists all of it, with what the tune itself left out. */
void hbk_lost_tell(struct hbk_lost *lost, const struct hbk_tune *tune,
                   struct hbk_faults *faults);

#endif
