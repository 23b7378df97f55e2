#include "reader/tree_lines.h"

#include <stdbool.h>
#include <string.h>

size_t hbk_lines_offset(struct hbk_lines *lines, size_t line, size_t column)
{
    size_t at = lines->at;
    for (; lines->line < line && at < lines->length; at++) {
        if (lines->bytes[at] == '\n') {
            lines->line++;
            lines->column = 0;
        }
    }
    for (; lines->column < column && at < lines->length; lines->column++) {
        do {
            at++;
        } while (at < lines->length &&
                 ((unsigned char)lines->bytes[at] & 0xC0U) == 0x80U);
    }
    lines->at = at;
    return at;
}

/* Whether a # at this byte is followed by a letter, digit or sign. */
static bool is_glued(const struct hbk_lines *lines, size_t at)
{
    return at + 1 < lines->length && lines->bytes[at] == '#' &&
           strchr(" \t\r\n#", lines->bytes[at + 1]) == NULL;
}

size_t hbk_lines_comment(const struct hbk_lines *lines, size_t from)
{
    size_t at = from;
    while (at < lines->length && lines->bytes[at] == ' ') {
        at++;
    }
    return at > from && is_glued(lines, at) ? at : lines->length;
}

size_t hbk_lines_comment_within(const struct hbk_lines *lines, size_t from,
                                size_t to)
{
    char quote = '\0';
    for (size_t at = from + 1; at < to && at < lines->length; at++) {
        const char c = lines->bytes[at];
        if (quote != '\0') {
            quote = c == quote ? '\0' : quote;
        } else if (c == '"' || c == '\'') {
            quote = c;
        } else if (is_glued(lines, at) &&
                   strchr(" \t\n[{,", lines->bytes[at - 1]) != NULL) {
            return at;
        }
    }
    return lines->length;
}
