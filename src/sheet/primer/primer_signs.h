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

/* The signs of scales that are written out: of the n easiest keys. */
unsigned hbk_primer_signs_of_keys(const struct hbk_scales *keys, size_t n,
                                  const struct hbk_notation *notation);

/* Of n written notes with their diagrams: black ones have both their names. */
unsigned hbk_primer_signs_of_diagrams(const struct hbk_notation *notation,
                                      const int written[], size_t n);

/* Of music in which some notes have no figure: why they have none. */
unsigned hbk_primer_sign_of_figures(void);

/*
 * Sentences that explain those of the signs that have not been, and marks them
 * as explained; "" for none.
 */
const char *hbk_primer_explain(struct hbk_booklet *booklet, unsigned signs);

#endif
