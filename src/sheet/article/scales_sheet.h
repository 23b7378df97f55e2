#ifndef HBK_SHEET_ARTICLE_SCALES_SHEET_H
#define HBK_SHEET_ARTICLE_SCALES_SHEET_H

#include "notes/scales.h"
#include "page/pad.h"

/*
 * The keys of written music and how each suits a horn: one row a key
 * signature, with its major and its minor key; see notes/scales.h.
 *
 * scales   those of the notes
 *
 * Other parameters, result and errors as of hbk_sheet_chart.
 */
enum hbk_status hbk_sheet_scales(const struct hbk_notes *notes,
                                 const struct hbk_scales *scales,
                                 const struct hbk_sheet_options *options,
                                 const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
