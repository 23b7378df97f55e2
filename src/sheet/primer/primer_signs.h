#ifndef HBK_SHEET_PRIMER_PRIMER_SIGNS_H
#define HBK_SHEET_PRIMER_PRIMER_SIGNS_H

#include "sheet/primer/primer_page.h"

/*
 * The signs of written music that a beginner must be told, each once, before
 * it is used.
 */

/* The signs of a tune as its player reads it, as bits of this file. */
uint64_t hbk_primer_signs_of(struct hbk_booklet *booklet,
                             const struct hbk_tune *written);

/* The signs of scales that are written out: of the n easiest keys. */
uint64_t hbk_primer_signs_of_keys(const struct hbk_scales *keys, size_t n,
                                  const struct hbk_notation *notation);

/* Of n written notes with their diagrams: black ones have both their names. */
uint64_t hbk_primer_signs_of_diagrams(const struct hbk_notes *notes,
                                      const int written[], size_t n);

/* Which notes of a piece have their figures below them. */
enum hbk_booklet_figured {
    HBK_BOOKLET_FULL,
    HBK_BOOKLET_ONCE, /* a study: new notes, any other once */
    HBK_BOOKLET_NEW,  /* a tune: the new notes of its lesson */
    HBK_BOOKLET_BARE, /* a tune likewise, which has no new notes */
    HBK_BOOKLET_NONE  /* a tune */
};
/* The rule by which figures are printed from there on; none where all are. */
uint64_t hbk_primer_sign_of_figures(enum hbk_booklet_figured how);

/* Sentences that explain those of the signs that have not been; "" for none. */
const char *hbk_primer_explanation(const struct hbk_booklet *booklet,
                                   uint64_t signs);
/* The same, and marks them as explained. */
const char *hbk_primer_explain(struct hbk_booklet *booklet, uint64_t signs);

#endif
