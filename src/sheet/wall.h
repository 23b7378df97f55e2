#ifndef HBK_SHEET_WALL_H
#define HBK_SHEET_WALL_H

#include "notes/notes.h"
#include "sheet/pad.h"

/*
 * The chart for the wall: everything known about a horn on one page where
 * it fits (upright or on its side, whichever lets it be larger), else on
 * several. Note names are never under 14 pt on A4 and Letter.
 *
 * notes     borrowed by the sheet's strings not at all: text is copied
 * options   paper, sounding names, title
 * sheet     zero-initialised but for its arena; receives the pages
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when there is no note to show.
 */
enum hbk_status hbk_sheet_wall(const struct hbk_notes *notes,
                               const struct hbk_sheet_options *options,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
