#ifndef HBK_SHEET_ARTICLE_TRILLS_H
#define HBK_SHEET_ARTICLE_TRILLS_H

#include "notes/notes.h"
#include "page/pad.h"

/*
 * The trill table: every note with the semitone and the whole tone above,
 * the two fingerings, the fingers that shake, whether it is easy, awkward,
 * done by the lip or out of reach, and why. On A4 and Letter both stand
 * side by side, on smaller papers one above the other.
 *
 * Parameters, result and errors as of hbk_sheet_chart; options->trills are
 * those of the notes.
 */
enum hbk_status hbk_sheet_trills(const struct hbk_notes *notes,
                                 const struct hbk_sheet_options *options,
                                 const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
