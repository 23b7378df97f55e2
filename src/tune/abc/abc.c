#include "tune/abc/abc.h"

#include "base/messages.h"

char hbk_abc_peek(const struct hbk_abc *abc, size_t ahead)
{
    const size_t left = abc->line.end - abc->at;
    return ahead < left ? abc->source.bytes[abc->at + ahead] : '\0';
}

struct hbk_place hbk_abc_place(const struct hbk_abc *abc, size_t at)
{
    return (struct hbk_place){.file = abc->source.file,
                              .line = abc->line.number,
                              .column = (unsigned)(at - abc->line.begin) + 1};
}

bool hbk_abc_is_heard(const struct hbk_abc *abc)
{
    return abc->voices.chosen < 0 || abc->voices.current == abc->voices.chosen;
}

bool hbk_abc_count_extra(struct hbk_abc *abc)
{
    enum { EXTRAS_MAX = 200000 };
    abc->extras++;
    if (abc->extras <= EXTRAS_MAX) {
        return true;
    }
    hbk_build_error(&abc->build, hbk_abc_place(abc, abc->line.begin),
                    HBK_H_TUNE_TOO_LARGE,
                    "the tune has more than %d fields and texts", EXTRAS_MAX);
    return false;
}

bool hbk_abc_digits(struct hbk_abc *abc, unsigned limit, unsigned *number)
{
    unsigned value = 0;
    size_t n = 0;
    for (;; n++) {
        const char c = hbk_abc_peek(abc, 0);
        if (c < '0' || c > '9') {
            break;
        }
        value = (10 * value) + (unsigned)(c - '0');
        if (value > limit) {
            return false;
        }
        abc->at++;
    }
    *number = value;
    return n > 0;
}
