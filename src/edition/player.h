#ifndef HBK_EDITION_PLAYER_H
#define HBK_EDITION_PLAYER_H

#include "notes/notes.h"
#include "reader/order_file.h"

/*
 * A player of an order, whose horn is read, set as the order says and solved,
 * like the horn they know, if there is one. It is not to be copied.
 */
struct hbk_player {
    const struct hbk_order_player *asked;
    const char *whom;              /* "Ada Fenwick, Larkmoor Band" */
    struct hbk_horn *horn, *known; /* known: NULL for none */
    struct hbk_notes notes;
    const struct hbk_notes *known_notes; /* NULL for none */
};

/*
 * order    borrowed
 * index    of the player
 * arena    owns what is found
 * player   finish it in either case
 * faults   receives what is wrong, also what this horn cannot meet
 */
enum hbk_status hbk_player_open(const struct hbk_order *order, size_t index,
                                struct hbk_arena *arena,
                                struct hbk_player *player,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

void hbk_player_finish(struct hbk_player *player);

#endif
