#include "tune/abc/abc_source.h"

#include "tune/abc/abc_text.h"

#include <string.h>

struct hbk_abc_line hbk_abc_line_at(const char *bytes, size_t length,
                                    size_t from, unsigned number)
{
    size_t end = from;
    while (end < length && bytes[end] != '\n' && bytes[end] != '\r') {
        end++;
    }
    size_t next = end;
    if (next < length) {
        const bool is_pair =
            bytes[next] == '\r' && next + 1 < length && bytes[next + 1] == '\n';
        next += is_pair ? 2 : 1;
    }
    return (struct hbk_abc_line){
        .begin = from, .end = end, .next = next, .number = number};
}

bool hbk_abc_line_begins(const struct hbk_abc_source *source,
                         struct hbk_abc_line line, const char *with)
{
    const size_t n = strlen(with);
    return line.end - line.begin >= n &&
           memcmp(source->bytes + line.begin, with, n) == 0;
}

const char *hbk_abc_line_text(const struct hbk_abc_source *source,
                              struct hbk_abc_line line, size_t from,
                              struct hbk_arena *arena)
{
    const char *const bytes = source->bytes;
    size_t to = from;
    while (to < line.end && bytes[to] != '%') {
        to += bytes[to] == '\\' && to + 1 < line.end ? 2 : 1;
    }
    while (from < to && strchr(" \t", bytes[from]) != NULL) {
        from++;
    }
    while (to > from && strchr(" \t", bytes[to - 1]) != NULL) {
        to--;
    }
    return hbk_abc_text(arena, bytes + from, to - from);
}
