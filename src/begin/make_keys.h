#ifndef HBK_BEGIN_MAKE_KEYS_H
#define HBK_BEGIN_MAKE_KEYS_H

#include "begin/draft.h"

/*
 * The keys of a draft whose pattern and number of keys and valves are known.
 *
 * shift   semitones from the pattern's written notes to the horn's
 */
void hbk_draft_keys(const struct hbk_answers *answers, struct hbk_draft *draft,
                    int shift);

#endif
