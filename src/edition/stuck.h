#ifndef HBK_EDITION_STUCK_H
#define HBK_EDITION_STUCK_H

#include "base/fault.h"
#include "notes/account.h"

/*
 * What a horn loses by what is stuck in it, beside the same horn, set the
 * same, with nothing stuck.
 *
 * notes    of the horn as it is; borrowed by the account
 * arena    owns what is found
 * faults   receives why the free horn could not be solved; what it warns of
 *          tells nothing new and is kept back
 */
enum hbk_status hbk_stuck_account(const struct hbk_notes *notes,
                                  struct hbk_arena *arena,
                                  struct hbk_account *account,
                                  struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
