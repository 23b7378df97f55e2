#include "solve/solve.h"

#include "solve/search.h"
#include "solve/setup.h"

enum hbk_status hbk_solve(const struct hbk_horn *horn,
                          const struct hbk_setting *setting,
                          struct hbk_arena *arena, struct hbk_notes *notes,
                          struct hbk_faults *faults)
{
    struct hbk_setup setup;
    HBK_TRY(hbk_set_up(horn, setting, arena, &setup, faults));
    return hbk_solve_as_set(horn, setting, &setup, arena, notes, faults);
}
