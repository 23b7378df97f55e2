#ifndef HBK_SHEET_BLOCK_UNROLLED_H
#define HBK_SHEET_BLOCK_UNROLLED_H

#include "notes/notes.h"

/*
 * The horn's tube drawn unrolled as a straight strip, mouthpiece left, bell
 * right, lengths along the axis to scale. Each hole and loop bears the name
 * of its control; beneath it stands the hand, L or R. A hole that stands open
 * is a square, the mark such a key has elsewhere on the sheet.
 *
 * A bored horn is drawn from its stations, widths and holes to one scale that
 * is stated beneath, with a ruler of mm from the bell. Of other horns only
 * lengths are known: there the shape of the tube means nothing, and holes
 * without a recorded place stand where the semitones put them.
 */
struct hbk_unrolled {
    const struct hbk_notes *notes;
    double unit; /* as the legend's */
    double width;
};

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

#endif
