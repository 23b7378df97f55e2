#ifndef HBK_REPORT_CHECK_H
#define HBK_REPORT_CHECK_H

#include "base/fault.h"
#include "base/json.h"
#include "solve/gaps.h"

/* What `check` understood of a horn. */
struct hbk_understood {
    const struct hbk_notes *notes;
    const struct hbk_gaps *gaps;
    const struct hbk_reach *reach;
};

/*
 * A fact a line, with what it is about before it: at what pitch the open horn
 * sounds and how far the slides take it, what each key or valve does, which
 * notes are available and why others are not, what each slide lengthens, what
 * is stuck.
 */
void hbk_check_text(const struct hbk_understood *found, struct hbk_text *out);

/* What was looked at, and what is wrong with it or doubtful. */
struct hbk_checked {
    const char *word;
    const struct hbk_faults *faults;
    const struct hbk_understood *found; /* NULL where it cannot be read */
};

/*
 * The answer as JSON, to be begun, filled with one horn after another and
 * ended.
 */
struct hbk_json hbk_check_json_begin(struct hbk_text *out);
void hbk_check_json_horn(const struct hbk_checked *checked,
                         struct hbk_json *json);
void hbk_check_json_end(struct hbk_json *json);

#endif
