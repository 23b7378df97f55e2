#ifndef HBK_REPORT_CHECK_H
#define HBK_REPORT_CHECK_H

#include "base/text.h"
#include "solve/gaps.h"

/*
 * What `check` understood of a horn, a fact a line, each after two blanks: at
 * what pitch the open horn sounds and how far the slides take it, the notes in
 * reach and why others are not, what each slide lengthens, what is stuck.
 */
struct hbk_understood {
    const struct hbk_notes *notes;
    const struct hbk_gaps *gaps;
    const struct hbk_reach *reach;
};

void hbk_check_text(const struct hbk_understood *found, struct hbk_text *out);

#endif
