#ifndef HBK_BEGIN_MAKE_H
#define HBK_BEGIN_MAKE_H

#include "begin/draft.h"

/* The draft as far as things are said. `answers->kind` is known; the pattern
 * is borrowed. */
void hbk_draft_make(const struct hbk_answers *answers,
                    const struct hbk_patterns *patterns,
                    struct hbk_draft *draft);

#endif
