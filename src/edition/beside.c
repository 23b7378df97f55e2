#include "edition/beside.h"

#include "solve/solve.h"

enum hbk_status hbk_solve_beside(const struct hbk_horn *known,
                                 const struct hbk_wishes *wishes,
                                 struct hbk_arena *arena,
                                 struct hbk_notes *notes,
                                 struct hbk_faults *faults)
{
    const struct hbk_setting setting = hbk_setting_beside(known, wishes);
    return hbk_solve(known, &setting, arena, notes, faults);
}
