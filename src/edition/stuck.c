#include "edition/stuck.h"

#include "base/arena.h"
#include "solve/solve.h"

enum hbk_status hbk_stuck_account(const struct hbk_notes *notes,
                                  struct hbk_arena *arena,
                                  struct hbk_account *account,
                                  struct hbk_faults *faults)
{
    struct hbk_setting free = notes->setting;
    free.stuck = (struct hbk_stuck){0};
    struct hbk_faults told = {0};
    struct hbk_notes *const before =
        HBK_ARENA_ARRAY(arena, struct hbk_notes, 1);
    const enum hbk_status status =
        hbk_solve(notes->horn, &free, arena, before, &told);
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, faults);
        return status;
    }
    *account = hbk_account_of(before, notes, arena);
    return HBK_OK;
}
