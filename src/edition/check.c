#include "edition/check.h"

#include "solve/doubts.h"
#include "solve/reach.h"
#include "solve/search.h"
#include "solve/setting.h"
#include "solve/setup.h"

enum hbk_status hbk_understand(const struct hbk_horn *horn,
                               struct hbk_arena *arena,
                               struct hbk_understood *found,
                               struct hbk_faults *faults)
{
    const struct hbk_setting setting = hbk_setting_of(horn);
    struct hbk_setup setup;
    struct hbk_notes *const notes = HBK_ARENA_ARRAY(arena, struct hbk_notes, 1);
    struct hbk_gaps *const gaps = HBK_ARENA_ARRAY(arena, struct hbk_gaps, 1);
    struct hbk_reach *const reach = HBK_ARENA_ARRAY(arena, struct hbk_reach, 1);
    struct hbk_faults told = {0}; /* what setting up has said already */
    hbk_doubt_horn(horn, faults);
    const bool has_slip = faults->count > 0;
    HBK_TRY(hbk_set_up(horn, &setting, arena, &setup, faults));
    HBK_TRY(hbk_solve_as_set(horn, &setting, &setup, arena, notes, faults));
    HBK_TRY(hbk_gaps_of(notes, &setup, arena, gaps, faults));
    if (!has_slip) { /* else lost notes are most likely its doing */
        hbk_doubt_notes(notes, gaps, faults);
    }
    const enum hbk_status status =
        hbk_reach_of(horn, &setting, arena, reach, &told);
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, faults);
        return status;
    }
    *found = (struct hbk_understood){notes, gaps, reach};
    return HBK_OK;
}
