#ifndef HBK_TESTS_ENGRAVED_H
#define HBK_TESTS_ENGRAVED_H

/* Music read from text or a file, for what is engraved of it. */

#include "sheet/part/part_sheet.h"
#include "support/tunes.h"

#include "engrave/engrave.h"
#include "sheet/part/part.h"

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

/* Words that a part may have. */
static const char *const hard_places[] = {
    "bar 2: the ring finger has 60 ms; playable from quarter = 84 down"};
static const struct hbk_part_words part_words = {
    .whom = "Ada Fenwick, Larkmoor Keyed Bugle Band",
    .heading = "for: Keyed bugle in C, six keys; quarter = 120; A4 = 440 Hz at "
               "20 \u00B0C",
    .n_hard = 1,
    .hard = hard_places};

static inline void lay_part(struct laid *laid,
                            const struct hbk_part_options *options,
                            const struct hbk_horn *horn,
                            const struct hbk_ruler *ruler)
{
    laid->sheet = (struct hbk_sheet){.arena = &laid->arena};
    assert_int_equal(hbk_sheet_part(&laid->document.tune, laid->fingerings,
                                    &part_words, options, horn, ruler,
                                    &laid->sheet),
                     HBK_OK);
}

/* All words of a sheet and what its glyphs say, in their order. */
static inline const char *said(const struct laid *laid)
{
    struct hbk_text text = {.arena = laid->sheet.arena};
    for (size_t p = 0; p < laid->sheet.n_pages; p++) {
        const struct hbk_page *page = &laid->sheet.pages[p];
        for (size_t i = 0; i < page->n; i++) {
            const struct hbk_mark *mark = &page->marks[i];
            if (mark->text != NULL && mark->kind != HBK_OPEN) {
                hbk_text_add(&text, mark->text);
                hbk_text_add(&text, mark->kind == HBK_TEXT ? " " : "");
            }
        }
    }
    return hbk_text_string(&text);
}

/* How many marks of a kind. */
static inline size_t count_marks(const struct laid *laid,
                                 enum hbk_mark_kind kind)
{
    size_t n = 0;
    for (size_t p = 0; p < laid->sheet.n_pages; p++) {
        for (size_t i = 0; i < laid->sheet.pages[p].n; i++) {
            n += laid->sheet.pages[p].marks[i].kind == kind ? 1 : 0;
        }
    }
    return n;
}

#endif
