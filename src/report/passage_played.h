#ifndef HBK_REPORT_PASSAGE_PLAYED_H
#define HBK_REPORT_PASSAGE_PLAYED_H

#include "base/json.h"
#include "base/text.h"
#include "tune/melody/tune.h"

/* In which order the bars of a tune are played. */

/*
 * "Played: bars 1-8, 1-16, then 1-8 (D.C. al Fine, without repeats).", and
 * nothing for a tune that is played once as it is written.
 */
void hbk_played_text(const struct hbk_tune *tune, struct hbk_text *out);

/* The same as the object `played`, every bar. */
void hbk_played_json(const struct hbk_tune *tune, struct hbk_json *json);

#endif
