#ifndef HBK_TESTS_TUNE_BOOK_H
#define HBK_TESTS_TUNE_BOOK_H

#include "support/solved.h"

#include "tune/book.h"

/* The tunes that come with the program. */
struct read {
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_tune_book book;
};

static inline void open_book(struct read *read)
{
    *read = (struct read){0};
    const char *const path = hbk_shipped_tunes(&read->arena, &read->faults);
    assert_non_null(path);
    assert_int_equal(hbk_tune_book_read(path, &read->book, &read->faults),
                     HBK_OK);
}

static inline void close_book(struct read *read)
{
    hbk_tune_book_finish(&read->book);
    hbk_arena_finish(&read->arena);
}

static inline bool sounds(const struct hbk_tune_event *event)
{
    return event->kind != HBK_TUNE_REST;
}

static inline int lowest(const struct hbk_tune *tune)
{
    int low = HBK_NOTE_MAX;
    for (size_t e = 0; e < tune->n_events; e++) {
        const struct hbk_tune_event *const event = &tune->events[e];
        low = sounds(event) && event->note < low ? event->note : low;
    }
    return low;
}

static inline int highest(const struct hbk_tune *tune)
{
    int high = 0;
    for (size_t e = 0; e < tune->n_events; e++) {
        const struct hbk_tune_event *const event = &tune->events[e];
        high = sounds(event) && event->note > high ? event->note : high;
    }
    return high;
}

#endif
