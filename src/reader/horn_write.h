#ifndef HBK_READER_HORN_WRITE_H
#define HBK_READER_HORN_WRITE_H

#include "base/text.h"
#include "horn/change.h"

struct hbk_fitted;

/* What a horn file is to become. */
struct hbk_horn_edition {
    const char *path; /* of the file to start from; not "-" */
    const struct hbk_horn_changes *changes;
    const struct hbk_fitted *fitted; /* the section `fitted`, whole */
    const char *remark;   /* added to the remarks of the horn in place of
                             those of earlier fits (horn/fitted.h) */
    const char *headline; /* a comment for the first line */
};

/*
 * The whole horn, with what it is based on, as one file that stands alone.
 * Comments of the old files are not kept.
 *
 * Returns HBK_OK; HBK_ERR_INPUT when a file cannot be read any more;
 * HBK_ERR_OUTPUT when the text cannot be made.
 */
enum hbk_status hbk_horn_rewrite(const struct hbk_horn_edition *edition,
                                 struct hbk_arena *arena, struct hbk_text *out,
                                 struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
