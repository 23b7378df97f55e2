#ifndef HBK_SHEET_ARTICLE_BESIDE_H
#define HBK_SHEET_ARTICLE_BESIDE_H

#include "notes/beside.h"
#include "page/pad.h"

/*
 * Adds a page, or as many as it takes, that says what changes for a player of
 * one horn who takes up another (sheet/words/words_beside.h) and sets the
 * fingerings side by side.
 *
 * options   paper; options->beside is the horn known, never NULL
 * sheet     may have pages
 */
void hbk_sheet_beside(const struct hbk_notes *here,
                      const struct hbk_sheet_options *options,
                      const struct hbk_ruler *ruler, struct hbk_sheet *sheet);

#endif
