#ifndef HBK_FIT_CHANGES_H
#define HBK_FIT_CHANGES_H

#include "fit/estimate.h"
#include "horn/change.h"
#include "horn/fitted.h"

/*
 * What a fit means for the horn file: its numbers anew, and what the file is
 * to remember of it. A value that no reading bears on stays as it is written.
 *
 * changes, fitted, remark   results; they live in the arena. The values an
 *                           earlier fit told and this one does not are kept.
 */
struct hbk_fit_edition {
    struct hbk_horn_changes changes;
    struct hbk_fitted fitted;
    const char *remark; /* begins as horn/fitted.h says; printed on charts */
};

void hbk_fit_edit(const struct hbk_fit *fit, struct hbk_arena *arena,
                  struct hbk_fit_edition *edition);

#endif
