#include "edition/fit.h"

#include "base/messages.h"
#include "fit/changes.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "reader/horn_file.h"
#include "reader/horn_write.h"

/* Nothing is written that could not be read again. */
static enum hbk_status read_again(const struct hbk_horn *horn,
                                  const struct hbk_text *text,
                                  struct hbk_faults *faults)
{
    struct hbk_horn again;
    struct hbk_faults unsaid = {0};
    const enum hbk_status status = hbk_horn_read_text(
        "fitted.yaml", text->bytes, text->length, &again, &unsaid);
    if (status != HBK_OK) {
        hbk_fault_add(faults, (struct hbk_place){.file = horn->path},
                      HBK_H_FITTED_UNREADABLE,
                      "the fitted horn is no sound horn any more (%.200s); "
                      "check the horn file, and the readings that fit worst",
                      unsaid.items[0].text);
    }
    hbk_horn_finish(&again);
    return status;
}

enum hbk_status hbk_fit_write_horn(const struct hbk_fit *fit,
                                   const struct hbk_horn *horn,
                                   struct hbk_text *out,
                                   struct hbk_faults *faults)
{
    struct hbk_fit_edition edition;
    hbk_fit_edit(fit, out->arena, &edition);
    const struct hbk_horn_edition fitted = {
        .path = horn->path,
        .changes = &edition.changes,
        .fitted = &edition.fitted,
        .remark = edition.remark,
        .headline =
            fit->report.names.n == fit->report.n
                ? "Fitted to the names of its keys by hornbook fit; comments "
                  "of "
                  "the older file are not kept."
                : "Fitted to readings of a tuner by hornbook fit; comments of "
                  "the older file are not kept.",
    };
    HBK_TRY(hbk_horn_rewrite(&fitted, out->arena, out, faults));
    return read_again(horn, out, faults);
}
