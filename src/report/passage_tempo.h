#ifndef HBK_REPORT_PASSAGE_TEMPO_H
#define HBK_REPORT_PASSAGE_TEMPO_H

#include "passage/view.h"

/* How fast a passage goes, in words. */

/* "dotted quarter = 84, at the tempo written"; in the arena. */
const char *hbk_passage_tempo(const struct hbk_passage_view *view,
                              struct hbk_arena *arena);

/*
 * A tempo in quarter notes a minute as one would say it at that event, in the
 * beat that the tune counts there or, where the user gave a tempo, in
 * quarters: "dotted quarter = 72". Rounded down; in the arena.
 */
const char *hbk_passage_pace(const struct hbk_passage_view *view, size_t event,
                             double quarters, struct hbk_arena *arena);

#endif
