#include "tune/melody/marks.h"

#include <string.h>

bool hbk_mark_is_hairpin(const struct hbk_tune_mark *mark)
{
    return mark->kind == HBK_TUNE_MARK_CRESCENDO ||
           mark->kind == HBK_TUNE_MARK_DIMINUENDO;
}

/*
 * The first entry of a list, in order of the event at `offset` in each, whose
 * event is not before `event`.
 */
static size_t first_from(const void *list, size_t n, size_t stride,
                         size_t offset, size_t event)
{
    size_t low = 0;
    size_t high = n;
    while (low < high) {
        const size_t middle = low + ((high - low) / 2);
        size_t at = 0;
        memcpy(&at, (const char *)list + (middle * stride) + offset,
               sizeof(at));
        if (at < event) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

size_t hbk_tune_marks_from(const struct hbk_tune_marks *marks, size_t event)
{
    return first_from(marks->items, marks->n, sizeof(marks->items[0]),
                      offsetof(struct hbk_tune_mark, at.event), event);
}

size_t hbk_tune_syllables_from(const struct hbk_tune_marks *marks, size_t event)
{
    return first_from(marks->syllables, marks->n_syllables,
                      sizeof(marks->syllables[0]),
                      offsetof(struct hbk_tune_syllable, event), event);
}
