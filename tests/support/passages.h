#ifndef HBK_TESTS_PASSAGES_H
#define HBK_TESTS_PASSAGES_H

#include "passage/find.h"
#include "support/solved.h"

#include "base/text.h"
#include "horn/press.h"
#include "passage/passage.h"
#include "solve/ranking.h"
#include "tune/document.h"

/* A tune on a shipped horn. */
struct played {
    struct solved horn;
    struct hbk_keywork keywork;
    struct hbk_tune_document document;
    struct hbk_arena arena;
    struct hbk_passage passage;
};

static inline void played_horn(struct played *p, const char *name)
{
    *p = (struct played){.document = {.source = NULL}};
    solved_open(&p->horn, name);
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    hbk_keywork_make(&p->horn.horn, &prices, &p->keywork);
}

static inline void played_forget(struct played *p)
{
    hbk_tune_document_finish(&p->document);
    p->document = (struct hbk_tune_document){.source = NULL};
    hbk_arena_finish(&p->arena);
}

static inline void played_close(struct played *p)
{
    played_forget(p);
    solved_close(&p->horn);
}

static inline void played_find(struct played *p, double quarters, bool keep,
                               size_t ways)
{
    const struct hbk_passage_request request = {.notes = &p->horn.notes,
                                                .keywork = &p->keywork,
                                                .tune = &p->document.tune,
                                                .quarters = quarters,
                                                .keep = keep,
                                                .ways = ways};
    assert_int_equal(hbk_passage_find(&request, &p->arena, &p->passage),
                     HBK_OK);
}

static inline void played_run(struct played *p, const char *run,
                              double quarters)
{
    struct hbk_faults faults = {.count = 0};
    played_forget(p);
    assert_int_equal(hbk_tune_from_run("run", run, &p->document, &faults),
                     HBK_OK);
    played_find(p, quarters, false, 3);
}

static inline void played_read(struct played *p, const char *abc)
{
    struct hbk_faults faults = {.count = 0};
    played_forget(p);
    const enum hbk_status status = hbk_tune_read_bytes(
        "own.abc", abc, strlen(abc), NULL, &p->document, &faults);
    if (status != HBK_OK || faults.count > 0) {
        print_error("%s\n%s\n", abc, faults.items[0].text);
    }
    assert_int_equal(status, HBK_OK);
    assert_int_equal(faults.count, 0);
}

/* "1-3 3 1-3": the fingerings taken, in written order. */
static inline const char *played_labels(struct played *p)
{
    struct hbk_text text = {.arena = &p->arena};
    for (size_t i = 0; i < p->passage.n; i++) {
        const struct hbk_passage_note *const note = &p->passage.notes[i];
        char label[HBK_LABEL_SIZE];
        hbk_text_addf(&text, "%s%s", i == 0 ? "" : " ",
                      hbk_horn_press_label(
                          &p->horn.horn,
                          note->candidates->of[note->taken]->press, label));
    }
    return hbk_text_string(&text);
}

#endif
