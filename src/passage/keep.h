#ifndef HBK_PASSAGE_KEEP_H
#define HBK_PASSAGE_KEEP_H

#include "passage/passage.h"

#include <stdint.h>

/*
 * Bars every candidate that is not played as `fingering` says, on whatever
 * partial. The text is read as "1-3", "1,3", "1+3", "1 3" or, where no
 * control has two digits, "13"; "0" and "open" are the horn at rest. Stuck
 * controls may be named or not. Costs stay as they are unless the fingering
 * can be kept.
 */
enum hbk_passage_kept hbk_keep(const struct hbk_notes *notes,
                               const char *fingering,
                               const struct hbk_candidates *candidates,
                               int64_t costs[]);

#endif
