#ifndef HBK_TESTS_ENGRAVED_H
#define HBK_TESTS_ENGRAVED_H

/* Music read from text or a file, for what is engraved of it. */

#include "support/tunes.h"

#include "sheet/engrave_draw.h"
#include "sheet/part.h"

struct laid {
    struct hbk_tune_document document;
    struct hbk_faults faults;
    struct hbk_arena arena;
    struct hbk_sheet sheet;
    struct hbk_part_fingering *fingerings;
};

static inline void read_text(struct laid *laid, const char *music)
{
    *laid = (struct laid){.sheet = {.n_pages = 0}};
    const char *text =
        hbk_arena_printf(&laid->arena, "X:1\nT:Test\n%s\n", music);
    assert_int_equal(hbk_tune_read_bytes("test.abc", text, strlen(text), NULL,
                                         &laid->document, &laid->faults),
                     HBK_OK);
    laid->sheet.arena = &laid->arena;
}

static inline void read_tune(struct laid *laid, const char *path,
                             const char *tune)
{
    *laid = (struct laid){.sheet = {.n_pages = 0}};
    const struct hbk_tune_options options = {.tune = tune};
    assert_int_equal(
        hbk_tune_read(path, &options, &laid->document, &laid->faults), HBK_OK);
    laid->sheet.arena = &laid->arena;
}

static inline void close_laid(struct laid *laid)
{
    hbk_tune_document_finish(&laid->document);
    hbk_arena_finish(&laid->arena);
}

#endif
