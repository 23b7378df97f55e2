#ifndef HBK_TUNE_MELODY_ORDER_PARTS_H
#define HBK_TUNE_MELODY_ORDER_PARTS_H

#include "tune/melody/order_walk.h"

/*
 * Plays the parts of a tune as tune->form says. False, with nothing played,
 * where that cannot be followed or only says what is written.
 */
bool hbk_order_parts(struct hbk_order_walk *walk);

#endif
