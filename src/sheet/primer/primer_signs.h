#ifndef HBK_SHEET_PRIMER_PRIMER_SIGNS_H
#define HBK_SHEET_PRIMER_PRIMER_SIGNS_H

#include "sheet/primer/primer_page.h"

/*
 * The signs of written music that a beginner must be told, each once, before
 * it is used.
 */

/* The signs of a tune as its player reads it, as bits of this file. */
unsigned hbk_primer_signs_of(struct hbk_booklet *booklet,
                             const struct hbk_tune *written);

/*
 * Sentences that explain those of the signs that have not been, and marks them
 * as explained; "" for none.
 */
const char *hbk_primer_explain(struct hbk_booklet *booklet, unsigned signs);

#endif
