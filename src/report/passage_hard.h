#ifndef HBK_REPORT_PASSAGE_HARD_H
#define HBK_REPORT_PASSAGE_HARD_H

#include "passage/view.h"

/*
 * The hard places of the bars shown, the worst first, those alike told once
 * and no more than a dozen: "bar 8, beat 1.25, D4 to E4: ...; playable from
 * about quarter = 135 down". The last line says from which tempo all are.
 */
const char *const *hbk_passage_hard(const struct hbk_passage_view *view,
                                    struct hbk_arena *arena, size_t *n);

#endif
