#include "tune/abc/abc_besides.h"

#include "tune/abc/abc.h"
#include "tune/melody/source.h"

/* Whether a comment ends the line: a % that is no sign of the text. */
static bool has_comment(const struct hbk_abc_source *source,
                        struct hbk_abc_line line)
{
    for (size_t i = line.begin; i < line.end; i++) {
        if (source->bytes[i] == '%' &&
            (i == line.begin || source->bytes[i - 1] != '\\')) {
            return true;
        }
    }
    return false;
}

void hbk_abc_count_besides(const struct hbk_tune_document *document,
                           struct hbk_lost *lost)
{
    const struct hbk_abc *const abc = document->source->abc;
    const struct hbk_abc_source *const source = &abc->source;
    struct hbk_abc_line line = {.next = source->start};
    while (line.next < source->length) {
        line = hbk_abc_line_at(source->bytes, source->length, line.next,
                               line.number + 1);
        const bool is_of_tune =
            line.begin < source->header_end ||
            (line.begin >= source->begin && line.begin < source->end);
        if (!is_of_tune || hbk_abc_line_begins(source, line, HBK_ABC_REMARK) ||
            hbk_abc_line_begins(source, line, "%abc")) {
            continue;
        }
        if (hbk_abc_line_begins(source, line, "%%") ||
            hbk_abc_line_begins(source, line, "I:")) {
            hbk_lost_count(lost, "instruction to a program",
                           "instructions to programs", 1);
        } else if (has_comment(source, line)) {
            hbk_lost_count(lost, "comment", "comments", 1);
        }
    }
    hbk_lost_count(lost, "other voice", "other voices",
                   abc->voices.n > 1 ? abc->voices.n - 1 : 0);
}
