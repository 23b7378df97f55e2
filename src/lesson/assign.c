#include "lesson/assign.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

/*
 * Row by row, each by the cheapest chain of rows that change their column:
 * shortest paths over prices less what rows and columns were worth so far
 * (Kuhn 1955, Munkres 1957; in the form of Jonker and Volgenant 1987).
 * Rows and columns count from 1; 0 is none.
 */
struct board {
    const double *prices;
    size_t rows, columns;
    double *row_worth, *column_worth;
    size_t *row_of;   /* of a column */
    size_t *came;     /* the column before on the path to a column */
    double *distance; /* to a column, as far as is known */
    bool *done;
};

static double reduced(const struct board *board, size_t row, size_t column)
{
    return board->prices[(row - 1) * board->columns + column - 1] -
           board->row_worth[row] - board->column_worth[column];
}

/* One more column is reached; returns it. */
static size_t reach(struct board *board, size_t from)
{
    const size_t row = board->row_of[from];
    double least = INFINITY;
    size_t next = 0;
    board->done[from] = true;
    for (size_t c = 1; c <= board->columns; c++) {
        if (board->done[c]) {
            continue;
        }
        const double way = reduced(board, row, c);
        if (way < board->distance[c]) {
            board->distance[c] = way;
            board->came[c] = from;
        }
        if (board->distance[c] < least) {
            least = board->distance[c];
            next = c;
        }
    }
    for (size_t c = 0; c <= board->columns; c++) {
        if (board->done[c]) {
            board->row_worth[board->row_of[c]] += least;
            board->column_worth[c] -= least;
        } else {
            board->distance[c] -= least;
        }
    }
    return next;
}

const size_t *hbk_assign(const double prices[], size_t rows, size_t columns,
                         struct hbk_arena *arena)
{
    struct board board = {
        .prices = prices,
        .rows = rows,
        .columns = columns,
        .row_worth = HBK_ARENA_ARRAY(arena, double, rows + 1),
        .column_worth = HBK_ARENA_ARRAY(arena, double, columns + 1),
        .row_of = HBK_ARENA_ARRAY(arena, size_t, columns + 1),
        .came = HBK_ARENA_ARRAY(arena, size_t, columns + 1),
        .distance = HBK_ARENA_ARRAY(arena, double, columns + 1),
        .done = HBK_ARENA_ARRAY(arena, bool, columns + 1)};
    size_t *const column_of = HBK_ARENA_ARRAY(arena, size_t, rows + 1);
    for (size_t row = 1; row <= rows; row++) {
        size_t column = 0;
        for (size_t c = 0; c <= columns; c++) {
            board.distance[c] = INFINITY;
            board.done[c] = false;
        }
        board.row_of[0] = row;
        do {
            column = reach(&board, column);
        } while (board.row_of[column] != 0);
        while (column != 0) {
            const size_t before = board.came[column];
            board.row_of[column] = board.row_of[before];
            column = before;
        }
    }
    for (size_t c = 1; c <= columns; c++) {
        if (board.row_of[c] != 0) {
            column_of[board.row_of[c] - 1] = c - 1;
        }
    }
    return column_of;
}
