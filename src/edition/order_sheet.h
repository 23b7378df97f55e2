#ifndef HBK_EDITION_ORDER_SHEET_H
#define HBK_EDITION_ORDER_SHEET_H

#include "notes/notes.h"
#include "page/pad.h"
#include "reader/order_file.h"

/* What a sheet of an order is laid out from. */
struct hbk_printed {
    const struct hbk_order_sheet *asked;
    const char *player; /* begins what is said of the sheet */
    const struct hbk_notes *notes;
    const struct hbk_sheet_options *options;
    const struct hbk_ruler *ruler;
    struct hbk_faults *faults; /* receives what is wrong */
};

/*
 * Lays out a sheet.
 *
 * sheet   zero-initialised but for its arena
 * whole   whether it holds all that it should; an engraved part lacks the
 *         fingerings of notes out of reach, which is told
 *
 * Returns HBK_OK, or HBK_ERR_INPUT or HBK_ERR_DOMAIN when there is nothing
 * to show.
 */
enum hbk_status hbk_printed_lay(const struct hbk_printed *printed,
                                struct hbk_sheet *sheet,
                                bool *whole) HBK_MUST_CHECK;

/* Whether the paper is large enough for a sheet of that kind. */
bool hbk_printed_takes(enum hbk_order_kind kind, enum hbk_paper paper);

/*
 * The names of the files, without folder and ending, for every sheet of
 * every player in turn: names[player][sheet]. They hold small letters of
 * ASCII, figures and - _ only, no two are alike, and none is the name of a
 * further page of another. Live in the arena.
 */
const char *const *const *hbk_printed_names(const struct hbk_order *order,
                                            struct hbk_arena *arena);

#endif
