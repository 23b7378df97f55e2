#include "notes/account.h"

#include "base/arena.h"

#include <math.h>

static const double same_cents = 3.0;

static const struct hbk_fingering *first_of(const struct hbk_notes *notes,
                                            int written)
{
    const struct hbk_note *const note = hbk_notes_find(notes, written);
    return note == NULL || note->n == 0 ? NULL : &note->fingerings[0];
}

static enum hbk_fate fate_of(const struct hbk_fingering *was,
                             const struct hbk_fingering *now)
{
    if (was == NULL) {
        return HBK_FATE_GAINED;
    }
    if (now == NULL) {
        return HBK_FATE_LOST;
    }
    return was->press == now->press && was->partial == now->partial &&
                   fabs(was->cents - now->cents) < same_cents
               ? HBK_FATE_SAME
               : HBK_FATE_OTHER;
}

struct hbk_account hbk_account_of(const struct hbk_notes *before,
                                  const struct hbk_notes *after,
                                  struct hbk_arena *arena)
{
    const int lowest =
        before->lowest < after->lowest ? before->lowest : after->lowest;
    const int highest =
        before->highest > after->highest ? before->highest : after->highest;
    struct hbk_fate_of *const items = HBK_ARENA_ARRAY(
        arena, struct hbk_fate_of, (size_t)(highest - lowest) + 1);
    struct hbk_account account = {.items = items};
    for (int written = lowest; written <= highest; written++) {
        const struct hbk_fingering *const was = first_of(before, written);
        const struct hbk_fingering *const now = first_of(after, written);
        if (was == NULL && now == NULL) {
            continue;
        }
        const enum hbk_fate fate = fate_of(was, now);
        items[account.n++] = (struct hbk_fate_of){written, fate, was, now};
        account.same += fate == HBK_FATE_SAME ? 1 : 0;
        account.other += fate == HBK_FATE_OTHER ? 1 : 0;
        account.lost += fate == HBK_FATE_LOST ? 1 : 0;
        account.gained += fate == HBK_FATE_GAINED ? 1 : 0;
    }
    return account;
}
