#ifndef HBK_TESTS_PIECES_H
#define HBK_TESTS_PIECES_H

#include "support/tunes.h"

/* Tunes and the order in which their bars are played. */

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

/* A tune, the bars as they are played, and what is told about it. */
struct piece {
    const char *music;
    const char *played;
    const char *told; /* numbers of messages, "235 236" */
};

/* "1 2 3 1 2": bars counted from 1 as they are written. */
static inline const char *order_text(const struct hbk_tune *tune,
                                     struct hbk_arena *arena)
{
    struct hbk_text out = {.arena = arena};
    for (size_t i = 0; i < tune->order.n; i++) {
        const struct hbk_tune_stretch *const at = &tune->order.stretches[i];
        for (size_t b = at->first; b <= at->last; b++) {
            hbk_text_addf(&out, "%s%zu", out.length > 0 ? " " : "", b + 1);
        }
    }
    return hbk_text_string(&out);
}

static inline const char *told_text(const struct hbk_faults *faults,
                                    struct hbk_arena *arena)
{
    struct hbk_text out = {.arena = arena};
    for (size_t i = 0; i < faults->count; i++) {
        hbk_text_addf(&out, "%s%u", i > 0 ? " " : "", faults->items[i].number);
    }
    return hbk_text_string(&out);
}

static inline void check_piece(const char *name, const char *text,
                               const struct piece *piece)
{
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good(name, text, &document, &faults);
    const char *const order = order_text(&document.tune, &document.arena);
    const char *const told = told_text(&faults, &document.arena);
    if (strcmp(order, piece->played) != 0 || strcmp(told, piece->told) != 0) {
        print_message("# %s\n", piece->music);
        print_faults(&faults);
    }
    assert_string_equal(order, piece->played);
    assert_string_equal(told, piece->told);
    hbk_tune_document_finish(&document);
}

#endif
