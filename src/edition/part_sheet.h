#ifndef HBK_EDITION_PART_SHEET_H
#define HBK_EDITION_PART_SHEET_H

#include "page/mark.h"
#include "page/paper.h"
#include "passage/view.h"

/*
 * The part engraved, with its fingerings. As hbk_sheet_part(): `sheet` is
 * zero-initialised but for its arena.
 */
enum hbk_status hbk_passage_part(const struct hbk_passage_view *view,
                                 const struct hbk_sheet_options *options,
                                 bool circles, const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
