#ifndef HBK_EDITION_CHECK_H
#define HBK_EDITION_CHECK_H

#include "base/fault.h"
#include "report/check.h"

/*
 * Sets a horn up and solves it, as every command does, and finds what is
 * doubtful about it.
 *
 * horn     borrowed
 * arena    owns what is found
 * faults   receives the doubts, as warnings, and what solving says; any of
 *          them is a reason to look at the file again
 */
enum hbk_status hbk_understand(const struct hbk_horn *horn,
                               struct hbk_arena *arena,
                               struct hbk_understood *found,
                               struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
