#ifndef HBK_PASSAGE_KEEP_H
#define HBK_PASSAGE_KEEP_H

#include "passage/passage.h"

#include <stdint.h>

/*
 * What a fingering in a file presses, without stuck controls, which may be
 * named or not. The text is read as "1-3", "1,3", "1+3", "1 3" or, where no
 * control has two digits, "13"; "0" and "open" are the horn at rest. Returns
 * false, and leaves `press`, when it names no press of this horn.
 */
bool hbk_keep_press(const struct hbk_notes *notes, const char *fingering,
                    uint32_t *press);

/*
 * Bars every candidate that is not played as `fingering` says, on whatever
 * partial. Costs stay as they are unless the fingering can be kept.
 */
enum hbk_passage_kept hbk_keep(const struct hbk_notes *notes,
                               const char *fingering,
                               const struct hbk_candidates *candidates,
                               int64_t costs[]);

#endif
