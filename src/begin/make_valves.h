#ifndef HBK_BEGIN_MAKE_VALVES_H
#define HBK_BEGIN_MAKE_VALVES_H

#include "begin/draft.h"

/* The valves of a draft whose keys are known. */
void hbk_draft_valves(const struct hbk_answers *answers,
                      struct hbk_draft *draft);

#endif
