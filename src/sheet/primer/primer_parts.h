#ifndef HBK_SHEET_PRIMER_PRIMER_PARTS_H
#define HBK_SHEET_PRIMER_PRIMER_PARTS_H

#include "sheet/primer/primer_page.h"

/* The chapters of a primer, in their order. Each begins where it stands. */

/* The title, how the horn works, what a player of another must hear. */
void hbk_primer_horn(struct hbk_booklet *booklet);
/* What may harm horn and player, before the first note. */
void hbk_primer_care(struct hbk_booklet *booklet);
/* How to make a sound at all, for who never has. */
void hbk_primer_sound(struct hbk_booklet *booklet);
void hbk_primer_first(struct hbk_booklet *booklet);
/*
 * The first notes held with the tuner, once lessons have taught them: where
 * the page has room, or `here` in any case. Whether they stand there now.
 */
bool hbk_primer_long_notes(struct hbk_booklet *booklet, bool here);
/* The lessons, each with the easiest tune that none before it has. */
void hbk_primer_lessons(struct hbk_booklet *booklet);
/* The tunes that no lesson has. */
void hbk_primer_tunes(struct hbk_booklet *booklet);
void hbk_primer_scales(struct hbk_booklet *booklet);
/* Readings to take, in the form that a file of readings has. */
void hbk_primer_tuner(struct hbk_booklet *booklet);

/* The tune of a lesson, by its place in primer->tunes; n_tunes for none. */
size_t hbk_primer_tune_of(const struct hbk_primer *primer, size_t lesson);
/* Draws it with its heading, and fingerings as far as they are still due. */
void hbk_primer_tune_draw(struct hbk_booklet *booklet, size_t number);

#endif
