#ifndef HBK_SHEET_PRIMER_PRIMER_CONTROLS_H
#define HBK_SHEET_PRIMER_PRIMER_CONTROLS_H

#include "sheet/primer/primer_page.h"

/* Where keys and valves are, in a picture and in words. */

/* The instrument drawn straight, where the booklet stands. */
void hbk_primer_draw_horn(struct hbk_booklet *booklet);

/*
 * From which end keys and valves are numbered, where that can be told of the
 * horn, and which finger of which hand rests on what: "The keys are numbered
 * from the bell: key 1 is nearest to it, under the right little finger. Left
 * hand: thumb on key 5. Right hand: ...". "" with nothing to press.
 */
const char *hbk_primer_where(struct hbk_arena *arena,
                             const struct hbk_notes *notes);

#endif
