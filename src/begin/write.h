#ifndef HBK_BEGIN_WRITE_H
#define HBK_BEGIN_WRITE_H

#include "base/text.h"
#include "begin/draft.h"

/*
 * The draft as a horn file that explains itself: above each part stands what
 * to look at and what to measure, and how; behind a line, what of it is still
 * to be measured. It reads back as a horn.
 *
 * file   how the file will be called, for the commands in its head
 */
void hbk_draft_write(const struct hbk_answers *answers,
                     const struct hbk_draft *draft, const char *file,
                     struct hbk_text *out);

#endif
