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

/*
 * So many of the worst of them at most, in the order of the tune and in brief:
 * "Bar 8, beat 1.25, D4 to E4: ...; from quarter = 135 down".
 */
const char **hbk_passage_worst(const struct hbk_passage_view *view, size_t most,
                               struct hbk_arena *arena, size_t *n);

/*
 * From which tempo down all of the bars shown can be played, where one tempo
 * goes through them: "quarter = 92"; NULL where nothing is hard.
 */
const char *hbk_passage_playable(const struct hbk_passage_view *view,
                                 struct hbk_arena *arena);

#endif
