#ifndef HBK_TESTS_CSV_H
#define HBK_TESTS_CSV_H

#include "support/check.h"

#include "base/text.h"

#include <string.h>

/*
 * One cell of comma-separated values by RFC 4180: commas, quotation marks and
 * line ends stand in quotation marks, which are doubled within; lines end
 * CRLF. NULL where there is no such cell.
 */
static inline const char *csv_cell(const char *text, size_t row, size_t column,
                                   struct hbk_arena *arena)
{
    struct hbk_text cell = {.arena = arena};
    bool quoted = false;
    size_t r = 0, c = 0;
    for (const char *at = text; *at != '\0'; at++) {
        const bool ends_line = !quoted && at[0] == '\r' && at[1] == '\n';
        if (*at == '"') {
            if (quoted && at[1] == '"') {
                at++;
            } else {
                quoted = !quoted;
                continue;
            }
        } else if (ends_line || (!quoted && *at == ',')) {
            if (r == row && c == column) {
                return hbk_text_string(&cell);
            }
            c = ends_line ? 0 : c + 1;
            r += ends_line ? 1 : 0;
            at += ends_line ? 1 : 0;
            continue;
        } else {
            assert_true(quoted || (*at != '\r' && *at != '\n'));
        }
        if (r == row && c == column) {
            hbk_text_put(&cell, at, 1);
        }
    }
    assert_false(quoted);
    return NULL;
}

/* The cell under that heading; row 0 is the first one below it. */
static inline const char *csv_at(const char *text, size_t row,
                                 const char *heading, struct hbk_arena *arena)
{
    for (size_t c = 0;; c++) {
        const char *const name = csv_cell(text, 0, c, arena);
        if (name == NULL) {
            print_error("no column %s\n", heading);
            fail();
            return "";
        }
        if (strcmp(name, heading) == 0) {
            const char *const cell = csv_cell(text, row + 1, c, arena);
            assert_non_null(cell);
            return cell;
        }
    }
}

/* How many rows stand below the headings; each has as many cells as they. */
static inline size_t csv_rows(const char *text, struct hbk_arena *arena)
{
    size_t columns = 0;
    while (csv_cell(text, 0, columns, arena) != NULL) {
        columns++;
    }
    size_t rows = 0;
    while (csv_cell(text, rows + 1, 0, arena) != NULL) {
        assert_non_null(csv_cell(text, rows + 1, columns - 1, arena));
        assert_null(csv_cell(text, rows + 1, columns, arena));
        rows++;
    }
    return rows;
}

#endif
