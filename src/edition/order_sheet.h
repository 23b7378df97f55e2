#ifndef HBK_EDITION_ORDER_SHEET_H
#define HBK_EDITION_ORDER_SHEET_H

#include "edition/player.h"
#include "page/pad.h"

/* A sheet of an order, and whose it is. Borrows everything. */
struct hbk_ordered {
    const struct hbk_player *player;
    const struct hbk_order_sheet *asked; /* one of the player's */
};

/*
 * Lays out a sheet.
 *
 * sheet   zero-initialised but for its arena
 * whole   whether it holds all that it should; an engraved part lacks the
 *         fingerings of notes out of reach, which is told
 * faults  receives what is wrong, each beginning with the player's name
 *
 * Returns HBK_OK, or HBK_ERR_INPUT or HBK_ERR_DOMAIN when there is nothing
 * to show, as when the paper is too small.
 */
enum hbk_status hbk_order_sheet_lay(const struct hbk_ordered *ordered,
                                    const struct hbk_ruler *ruler,
                                    struct hbk_sheet *sheet, bool *whole,
                                    struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
