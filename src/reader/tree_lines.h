#ifndef HBK_READER_TREE_LINES_H
#define HBK_READER_TREE_LINES_H

#include <stddef.h>

/*
 * The text of a YAML file by lines, for what the parser passes over: comments
 * that stand so close to a text that its author did not mean one.
 */
struct hbk_lines {
    const char *bytes; /* valid UTF-8 */
    size_t length;
    size_t line, column, at; /* what was asked for last; moves on only */
};

/*
 * The byte at a column (code points, from 0) of a line (from 0) that is not
 * before the one asked for last.
 */
size_t hbk_lines_offset(struct hbk_lines *lines, size_t line, size_t column);

/*
 * Where a comment without a blank after its # begins that follows the byte
 * `from` with only blanks between, on the same line; `length` if none does.
 * "#3 of the band", but not "# in mm".
 */
size_t hbk_lines_comment(const struct hbk_lines *lines, size_t from);

/*
 * Where the first such comment begins between two bytes of what stands in
 * [ ] or { }, outside quotation marks; `length` if there is none.
 */
size_t hbk_lines_comment_within(const struct hbk_lines *lines, size_t from,
                                size_t to);

#endif
