#ifndef HBK_NOTES_ACCOUNT_H
#define HBK_NOTES_ACCOUNT_H

#include "notes/notes.h"

/*
 * What becomes of the notes of a horn when something changes: a key sticks,
 * a pad is lost.
 */
enum hbk_fate {
    HBK_FATE_SAME,  /* the first choice is what it was */
    HBK_FATE_OTHER, /* it still plays, by another first choice */
    HBK_FATE_LOST,  /* it is out of reach now */
    HBK_FATE_GAINED /* it is in reach only now */
};

struct hbk_fate_of {
    int written;
    enum hbk_fate fate;
    const struct hbk_fingering *was; /* borrowed; NULL for gained */
    const struct hbk_fingering *now; /* borrowed; NULL for lost */
};

struct hbk_account {
    size_t n; /* notes in reach before, after, or both; rising */
    const struct hbk_fate_of *items;
    size_t same, other, lost, gained;
};

/*
 * Compares the first choices. A fingering is the same when fingers press the
 * same and the pitch moves by less than 3 cents: whatever is stuck shut
 * above an open hole changes nothing.
 *
 * before, after   of one horn; borrowed by the account
 */
struct hbk_account hbk_account_of(const struct hbk_notes *before,
                                  const struct hbk_notes *after,
                                  struct hbk_arena *arena);

#endif
