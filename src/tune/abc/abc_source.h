#ifndef HBK_TUNE_ABC_ABC_SOURCE_H
#define HBK_TUNE_ABC_ABC_SOURCE_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

/* The bytes of an ABC file, and the tune that was chosen in it. */
struct hbk_abc_source {
    const char *file;
    const char *bytes;
    size_t length;
    bool strict;       /* says that it keeps to ABC 2.1 */
    size_t start;      /* after a byte order mark */
    size_t header_end; /* of the file header, 0 without one */
    size_t begin, end; /* of the chosen tune */
    unsigned begin_line;
    size_t remark, remark_end; /* our remark in its header, or both 0 */
};

struct hbk_abc_line {
    size_t begin, end; /* without the line end */
    size_t next;
    unsigned number; /* counted from 1 */
};

/* The line that begins at byte `from`, ended by LF, CR LF or CR. */
struct hbk_abc_line hbk_abc_line_at(const char *bytes, size_t length,
                                    size_t from, unsigned number);

/* Whether the line begins with these bytes. */
bool hbk_abc_line_begins(const struct hbk_abc_source *source,
                         struct hbk_abc_line line, const char *with);

/*
 * What stands in a line from byte `from` on, without a comment and without
 * blanks at both ends, its escapes resolved (hbk_abc_text()).
 */
const char *hbk_abc_line_text(const struct hbk_abc_source *source,
                              struct hbk_abc_line line, size_t from,
                              struct hbk_arena *arena);

#endif
