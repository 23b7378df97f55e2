#ifndef HBK_READER_ORDER_FILE_H
#define HBK_READER_ORDER_FILE_H

#include "reader/order.h"

/*
 * Reads an order. Paths in it count from its own folder.
 *
 * path    "-" is standard input; borrowed, must outlive the order
 * order   initialised here; finish it in either case
 * faults  every fault of the file, up to 20
 *
 * Returns HBK_OK, or HBK_ERR_INPUT with an error added.
 */
enum hbk_status hbk_order_read(const char *path, struct hbk_order *order,
                               struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
