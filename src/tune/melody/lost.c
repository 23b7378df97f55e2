#include "tune/melody/lost.h"

#include "base/messages.h"
#include "base/text.h"
#include "tune/melody/build.h"

#include <string.h>

void hbk_lost_count(struct hbk_lost *lost, const char *one, const char *many,
                    size_t count)
{
    size_t i = 0;
    while (i < lost->n && strcmp(lost->kinds[i].one, one) != 0) {
        i++;
    }
    if (count == 0) {
        return;
    }
    if (i == lost->n) {
        HBK_ARENA_GROW(lost->arena, lost->kinds, lost->n, lost->room);
        lost->kinds[lost->n++] =
            (struct hbk_tune_left_out){.one = one, .many = many};
    }
    lost->kinds[i].count += count;
}

/* Adds kinds from `from` on, as far as they fit a message; where it came to. */
static size_t list_kinds(const struct hbk_lost *lost, size_t from,
                         struct hbk_text *list)
{
    enum { LIST_MAX = 220 };
    size_t i = from;
    bool is_last = false;
    while (i < lost->n && !is_last) {
        const struct hbk_tune_left_out *const kind = &lost->kinds[i];
        is_last = i + 1 == lost->n || list->length > LIST_MAX;
        hbk_text_addf(list, "%s%zu %s",
                      i == from ? ""
                      : is_last ? " and "
                                : ", ",
                      kind->count, kind->count == 1 ? kind->one : kind->many);
        i++;
    }
    return i;
}

void hbk_lost_list(const struct hbk_lost *lost, const struct hbk_tune *tune,
                   unsigned number, const char *one, const char *many,
                   struct hbk_faults *faults)
{
    for (size_t i = 0; i < lost->n;) {
        struct hbk_text list = {.arena = lost->arena};
        const size_t first = i;
        i = list_kinds(lost, i, &list);
        const bool is_one = i == first + 1 && lost->kinds[first].count == 1;
        hbk_fault_warn(faults, hbk_whole_file(tune->file), number, "%s %s",
                       hbk_text_string(&list), is_one ? one : many);
    }
}

void hbk_lost_count_left_out(struct hbk_lost *lost, const struct hbk_tune *tune)
{
    for (size_t i = 0; i < tune->marks.n_left_out; i++) {
        const struct hbk_tune_left_out *const kind = &tune->marks.left_out[i];
        hbk_lost_count(lost, kind->one, kind->many, kind->count);
    }
}

void hbk_lost_tell(struct hbk_lost *lost, const struct hbk_tune *tune,
                   struct hbk_faults *faults)
{
    hbk_lost_count_left_out(lost, tune);
    hbk_lost_list(lost, tune, HBK_H_NOT_WRITTEN,
                  "does not go into the new file",
                  "do not go into the new file", faults);
}
