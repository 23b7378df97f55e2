#ifndef HBK_SHEET_BLOCK_UNROLLED_H
#define HBK_SHEET_BLOCK_UNROLLED_H

#include "notes/notes.h"

/* Where things lie along the tube of a horn, drawn straight. */

/*
 * Where the air leaves while that hole is the only one opened, as a share of
 * the tube from the mouthpiece (0) to the bell (1). A hole that raises by n
 * semitones lies at 2^(-n/12) of the sounding length; the bell lies beyond
 * the open-standing holes by the interval that shutting them lowers. For a
 * bored horn the place of its centre. `site` is a hole of the horn, rest_m its
 * tube as in notes/notes.h.
 */
double hbk_unrolled_hole(const struct hbk_horn *horn, double rest_m,
                         size_t site);

/* The tube a loop adds, as a share of the same length. `site` is a loop. */
double hbk_unrolled_loop(const struct hbk_horn *horn, double rest_m,
                         size_t site);

/* Length of the tube, m. */
double hbk_unrolled_length(const struct hbk_horn *horn, double rest_m);

/*
 * Whether that slide can be shown on the tube: a main one, whose place is
 * known or at the receiver.
 */
bool hbk_unrolled_has_slide(const struct hbk_horn *horn, size_t slide);

#endif
