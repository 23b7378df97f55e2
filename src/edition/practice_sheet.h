#ifndef HBK_EDITION_PRACTICE_SHEET_H
#define HBK_EDITION_PRACTICE_SHEET_H

#include "page/mark.h"
#include "page/paper.h"
#include "passage/view.h"

/*
 * The hard places of a part alone, in the order of its bars, each note with
 * its fingering and its next choices; where nothing is hard, a sheet that says
 * so. As hbk_passage_part().
 */
enum hbk_status hbk_passage_practice(const struct hbk_passage_view *view,
                                     const struct hbk_sheet_options *options,
                                     bool circles,
                                     const struct hbk_ruler *ruler,
                                     struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
