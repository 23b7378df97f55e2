#ifndef HBK_SHEET_ARTICLE_TRILLS_H
#define HBK_SHEET_ARTICLE_TRILLS_H

#include "notes/notes.h"
#include "page/pad.h"

/*
 * The trills of a horn on the staff: a column a note, and in it the trill to
 * the semitone above and to the whole tone above. Plain figures stay pressed;
 * one sign, of sheet/block/dot.h, is a finger that trills; a word stands only
 * where a trill is awkward or the lip's, a dash where there is none. On its
 * side, two octaves a page, each octave from C on; on small paper fewer.
 *
 * Parameters, result and errors as of hbk_sheet_chart; options->trills are
 * those of the notes.
 */
enum hbk_status hbk_sheet_trills(const struct hbk_notes *notes,
                                 const struct hbk_sheet_options *options,
                                 const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
