#ifndef HBK_SHEET_BLOCK_SPREAD_H
#define HBK_SHEET_BLOCK_SPREAD_H

#include <stddef.h>

enum { HBK_SPREAD_MAX = 64 };

/*
 * Moves n places apart until neighbours are `gap` from each other, as little
 * as can be in the sum of squares, and then as a whole between `low` and
 * `high`. Where there is no room for all the gap is made smaller.
 *
 * at   ascending, at most HBK_SPREAD_MAX; changed in place
 */
void hbk_spread(size_t n, double at[], double gap, double low, double high);

#endif
