#ifndef HBK_LESSON_ASSIGN_H
#define HBK_LESSON_ASSIGN_H

#include "base/arena.h"

/*
 * Gives every row a column of its own so that the sum of the prices is the
 * least.
 *
 * prices    rows times columns, row by row; INFINITY where a row must not have
 *           a column
 * columns   as many as rows or more, and enough of them without INFINITY that
 *           each row can have one
 *
 * Returns the column of each row, from 0; the arena owns them.
 */
const size_t *hbk_assign(const double prices[], size_t rows, size_t columns,
                         struct hbk_arena *arena);

#endif
