#ifndef HBK_EDITION_BESIDE_H
#define HBK_EDITION_BESIDE_H

#include "base/fault.h"
#include "solve/setting.h"

/*
 * The notes of the horn a player knows, which stands beside the one that the
 * wishes are for: set by the same wishes, as hbk_setting_beside() has it.
 *
 * known   borrowed by the notes
 * wishes  such that the other horn could meet them
 */
enum hbk_status hbk_solve_beside(const struct hbk_horn *known,
                                 const struct hbk_wishes *wishes,
                                 struct hbk_arena *arena,
                                 struct hbk_notes *notes,
                                 struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
