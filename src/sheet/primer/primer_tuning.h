#ifndef HBK_SHEET_PRIMER_PRIMER_TUNING_H
#define HBK_SHEET_PRIMER_PRIMER_TUNING_H

#include "sheet/primer/primer_given.h"

/* How the horn is tuned by somebody who never did it. In the arena. */

/*
 * How far out what slides stand, and what these are: "Before you play, pull
 * the shank 8 mm out: it is the short straight tube ...". What is stuck is not
 * asked for; "" where nothing is to be set.
 */
const char *hbk_primer_set(struct hbk_arena *arena,
                           const struct hbk_notes *notes);

/* ", as shank 8": how far out the main slide stands; "" without one. */
const char *hbk_primer_slide_now(struct hbk_arena *arena,
                                 const struct hbk_notes *notes);

/*
 * What to play, what the tuner should show, and what to do when it shows
 * something else: of all notes, and of one alone.
 */
const char *hbk_primer_tuning(struct hbk_arena *arena,
                              const struct hbk_primer *primer);

#endif
