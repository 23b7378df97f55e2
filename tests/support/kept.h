#ifndef HBK_TESTS_KEPT_H
#define HBK_TESTS_KEPT_H

#include "support/musicxml.h"

#include "base/file.h"

/* Helpers of the tests of what is kept of a user's file of music. */

static inline struct hbk_text text_of(const char *string,
                                      struct hbk_arena *arena)
{
    struct hbk_text text = {.arena = arena};
    hbk_text_add(&text, string);
    return text;
}

static inline void check_same(const struct hbk_text *got,
                              const struct hbk_text *want)
{
    if (got->length != want->length ||
        memcmp(got->bytes, want->bytes, want->length) != 0) {
        print_error("got: %s\n", got->bytes);
    }
    assert_int_equal(got->length, want->length);
    assert_memory_equal(got->bytes, want->bytes, want->length);
}

/* A fingering for every event, some with alternates. */
static inline struct hbk_tune_fingering *invent(const struct hbk_tune *tune,
                                                struct hbk_arena *arena)
{
    static const char *const alternates[] = {"3", "1-2-3"};
    static const char *const mains[] = {
        "0", "1-2", "2", "\xC2\xBD \xF0\x9D\x84\x9E", "T\"1\" \\ 50%&$1"};
    struct hbk_tune_fingering *const fingerings =
        HBK_ARENA_ARRAY(arena, struct hbk_tune_fingering, tune->n_events);
    for (size_t i = 0; i < tune->n_events; i++) {
        fingerings[i].main = i % 9 == 8 ? NULL : mains[i % 5];
        fingerings[i].alternates = alternates;
        fingerings[i].n_alternates = i % 3;
    }
    return fingerings;
}

/* The text of `document` with invented fingerings; `again` is what it reads. */
static inline struct hbk_text
annotated(const struct hbk_tune_document *document,
          const struct hbk_tune_options *options,
          struct hbk_tune_document *again)
{
    struct hbk_arena *const arena = &again->arena;
    struct hbk_faults faults = {.count = 0};
    struct hbk_text text = {.arena = arena};
    assert_int_equal(hbk_tune_annotate(document, document->format,
                                       invent(&document->tune, arena), NULL,
                                       &text, &faults),
                     HBK_OK);
    faults = (struct hbk_faults){.count = 0};
    const enum hbk_status status = hbk_tune_read_bytes(
        "again", text.bytes, text.length, options, again, &faults);
    if (status != HBK_OK) {
        print_error("%s\n", text.bytes);
    }
    assert_int_equal(status, HBK_OK);
    return text;
}

static inline struct hbk_text stripped(const struct hbk_tune_document *document,
                                       struct hbk_arena *arena)
{
    struct hbk_faults faults = {.count = 0};
    struct hbk_text text = {.arena = arena};
    assert_int_equal(hbk_tune_strip(document, document->format, &text, &faults),
                     HBK_OK);
    return text;
}

/* What was put in is the first fingering that is read. */
static inline void check_fingered(const struct hbk_tune *tune)
{
    struct hbk_arena arena = {.newest = NULL};
    const struct hbk_tune_fingering *const want = invent(tune, &arena);
    size_t n = 0;
    for (size_t i = 0; i < tune->n_events; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        if (event->kind != HBK_TUNE_REST && event->head == i &&
            want[i].main != NULL) {
            assert_non_null(event->fingering);
            assert_string_equal(event->fingering, want[i].main);
            n++;
        }
    }
    assert_true(n > 0);
    hbk_arena_finish(&arena);
}

/* In, in once more with the same result, and out. */
static inline void check_comes_back(const struct hbk_text *text,
                                    const struct hbk_tune_options *options)
{
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document first = {.source = NULL};
    struct hbk_tune_document second = {.source = NULL};
    struct hbk_tune_document third = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_read_bytes("t", text->bytes, text->length,
                                         options, &first, &faults),
                     HBK_OK);
    const struct hbk_text untouched = stripped(&first, &arena);
    check_same(&untouched, text);
    const struct hbk_text once = annotated(&first, options, &second);
    const struct hbk_text twice = annotated(&second, options, &third);
    check_same(&twice, &once);
    assert_string_equal(describe(&second.tune, &arena),
                        describe(&first.tune, &arena));
    if (first.format != HBK_TUNE_ABC) {
        check_fingered(&second.tune);
    }
    const struct hbk_text out = stripped(&third, &arena);
    check_same(&out, text);
    hbk_tune_document_finish(&first);
    hbk_tune_document_finish(&second);
    hbk_tune_document_finish(&third);
    hbk_arena_finish(&arena);
}

static inline struct hbk_text contents(const char *path,
                                       struct hbk_arena *arena)
{
    struct hbk_faults faults = {.count = 0};
    struct hbk_text text = {.arena = arena};
    char *bytes = NULL;
    size_t length = 0;
    assert_int_equal(
        hbk_file_read(path, 1000000, arena, &bytes, &length, &faults), HBK_OK);
    hbk_text_put(&text, bytes, length);
    return text;
}

#endif
