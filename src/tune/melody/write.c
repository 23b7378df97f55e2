#include "tune/melody/write.h"

#include "base/messages.h"
#include "tune/melody/build.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

static bool is_plain(const char *text)
{
    enum { FINGERING_MAX = 80 };
    const size_t length = strlen(text);
    if (length > FINGERING_MAX || !hbk_text_is_utf8(text, length)) {
        return false;
    }
    for (const char *c = text; *c != '\0'; c++) {
        if ((unsigned char)*c < 0x20 || *c == 0x7F) {
            return false;
        }
    }
    return true;
}

bool hbk_write_check(const struct hbk_tune *tune,
                     const struct hbk_tune_fingering *fingerings,
                     struct hbk_faults *faults)
{
    for (size_t i = 0; i < tune->n_events; i++) {
        const struct hbk_tune_fingering fingering =
            hbk_write_fingering(tune, fingerings, i);
        bool good = fingering.main == NULL || is_plain(fingering.main);
        for (size_t k = 0; fingering.main != NULL && k < fingering.n_alternates;
             k++) {
            good = good && is_plain(fingering.alternates[k]);
        }
        if (!good) {
            char where[HBK_TUNE_WHERE_SIZE];
            hbk_fault_add(faults, tune->events[i].place, HBK_H_FINGERING_TEXT,
                          "%s: this fingering is too long or no plain text "
                          "and cannot be written",
                          hbk_tune_where(tune, i, where));
            return false;
        }
    }
    return true;
}

struct hbk_tune_fingering
hbk_write_fingering(const struct hbk_tune *tune,
                    const struct hbk_tune_fingering *fingerings, size_t event)
{
    const struct hbk_tune_event *const at = &tune->events[event];
    struct hbk_tune_fingering fingering = {.main = NULL};
    if (at->kind == HBK_TUNE_REST || at->head != event) {
        return fingering;
    }
    if (fingerings == NULL) {
        fingering.main = at->fingering;
    } else {
        fingering = fingerings[event];
    }
    if (fingering.main != NULL && fingering.main[0] == '\0') {
        fingering.main = NULL;
    }
    return fingering;
}

void hbk_write_decimal(struct hbk_text *out, double value)
{
    const int64_t parts = llround(value * 1000000.0);
    hbk_text_addf(out, "%" PRId64, parts / 1000000);
    int64_t rest = parts % 1000000;
    if (rest == 0) {
        return;
    }
    int digits = 6;
    while (rest % 10 == 0) {
        rest /= 10;
        digits--;
    }
    hbk_text_addf(out, ".%0*" PRId64, digits, rest);
}
