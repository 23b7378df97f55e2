#ifndef HBK_SHEET_CHART_CHART_H
#define HBK_SHEET_CHART_CHART_H

#include "notes/notes.h"
#include "page/pad.h"

/* The charts of a horn that a player can ask for. */
enum hbk_layout {
    HBK_LAYOUT_PLATE,  /* the usual one; see sheet/chart/plate.h */
    HBK_LAYOUT_WALL,   /* everything, for the wall; see sheet/chart/plate.h */
    HBK_LAYOUT_STAND,  /* first choices, large; see sheet/chart/stand.h */
    HBK_LAYOUT_CARD,   /* for the pocket; see sheet/chart/card.h */
    HBK_LAYOUT_LARGE,  /* in large print; see sheet/chart/large.h */
    HBK_LAYOUT_TRILLS, /* the trill table; see sheet/article/trills.h */
    HBK_LAYOUT_COUNT
};

/* "plate", ...: the word that asks for a layout. */
const char *hbk_layout_name(enum hbk_layout layout);
/* Reads such a word, capitals or not. */
bool hbk_layout_parse(const char *text, enum hbk_layout *layout);
/* Whether the paper is large enough. */
bool hbk_layout_takes(enum hbk_layout layout, enum hbk_paper paper);
/* What is: "A4, A3 or Letter", "A5 or larger", "any size". */
const char *hbk_layout_papers(enum hbk_layout layout);
/* The layout for who asks for none: the plate, the wall's on A5, the card on
 * A6. */
enum hbk_layout hbk_layout_usual(enum hbk_paper paper);
/* Whether it can tell what changes beside another horn. */
bool hbk_layout_compares(enum hbk_layout layout);
/* Whether it shows trills, and so needs them among its options. */
bool hbk_layout_shows_trills(enum hbk_layout layout);
/* All the words, "plate, wall, stand or card", for a message. */
const char *hbk_layout_words(struct hbk_arena *arena);

/*
 * Lays out a chart of a horn.
 *
 * notes     what the solver found; nothing of it is kept: text is copied
 * options   paper, sounding names, title, the horn beside which it stands,
 *           the trills if the layout shows them
 * sheet     zero-initialised but for its arena; receives the pages
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when there is no note to show or the
 * layout does not take the paper; the sheet then has no page.
 */
enum hbk_status hbk_sheet_chart(enum hbk_layout layout,
                                const struct hbk_notes *notes,
                                const struct hbk_sheet_options *options,
                                const struct hbk_ruler *ruler,
                                struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
