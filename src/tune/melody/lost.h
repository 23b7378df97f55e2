#ifndef HBK_TUNE_MELODY_LOST_H
#define HBK_TUNE_MELODY_LOST_H

#include "base/fault.h"
#include "tune/melody/tune.h"

/*
 * What of a file is not on the sheet, or is lost where it is written anew,
 * counted kind by kind.
 */

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

/*
 * Warnings of this number that list all of it, as many as it takes, each
 * followed by `one` or `many`: "is not on the sheet", "are not on the sheet".
 */
void hbk_lost_list(const struct hbk_lost *lost, const struct hbk_tune *tune,
                   unsigned number, const char *one, const char *many,
                   struct hbk_faults *faults);

/* Warns of all that is lost by writing, with what the tune itself left out. */
void hbk_lost_tell(struct hbk_lost *lost, const struct hbk_tune *tune,
                   struct hbk_faults *faults);

#endif
