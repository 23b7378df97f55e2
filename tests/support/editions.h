#ifndef HBK_TESTS_EDITIONS_H
#define HBK_TESTS_EDITIONS_H

#include "support/solved.h"

#include "edition/held.h"
#include "edition/perform.h"
#include "edition/stuck.h"
#include "fit/fit.h"
#include "reader/readings_file.h"
#include "tune/document.h"

/*
 * What is made of one shipped horn, for the tests of making it and of the
 * reports on it. The caller closes what was opened.
 */

/* A tune on a shipped horn, performed as it is asked for. */
struct performance {
    struct solved horn;
    struct hbk_tune_document document;
    struct hbk_arena arena;
    struct hbk_faults faults; /* of tune and performance */
    struct hbk_performed performed;
};

/* Performs the document anew. */
static inline void perform_again(struct performance *p,
                                 const struct hbk_perform_ask *ask)
{
    assert_int_equal(hbk_perform(ask, &p->document.tune, &p->horn.notes,
                                 &p->arena, &p->performed, &p->faults),
                     HBK_OK);
}

/* `text` is a tune in ABC, or with `is_run` notes as they are typed. */
static inline void perform_text(struct performance *p, const char *horn,
                                const char *text, bool is_run,
                                const struct hbk_perform_ask *ask)
{
    *p = (struct performance){.document = {.source = NULL}};
    solved_open(&p->horn, horn);
    assert_int_equal(
        is_run ? hbk_tune_from_run("run", text, &p->document, &p->faults)
               : hbk_tune_read_bytes("own.abc", text, strlen(text), NULL,
                                     &p->document, &p->faults),
        HBK_OK);
    perform_again(p, ask);
}

static inline void perform_abc(struct performance *p, const char *horn,
                               const char *abc,
                               const struct hbk_perform_ask *ask)
{
    perform_text(p, horn, abc, false, ask);
}

static inline void perform_done(struct performance *p)
{
    hbk_tune_document_finish(&p->document);
    hbk_arena_finish(&p->arena);
    solved_close(&p->horn);
}

/* A cornet in B flat that holds a chord; close the horn. */
static inline void held_open(struct solved *s, const char *chord,
                             struct hbk_held *held)
{
    solved_open(s, "cornet-b-flat");
    struct hbk_text why = {.arena = &s->arena};
    const struct hbk_hold_ask ask = {.notes = chord};
    assert_int_equal(hbk_hold_notes(&ask, &s->notes, &s->arena, held, &why),
                     HBK_HOLD_FINE);
}

/* A cornet in B flat whose second valve is stuck down, beside a free one. */
static inline void stuck_open(struct solved *s, struct hbk_account *account)
{
    solved_read(s, "cornet-b-flat");
    s->setting.stuck.held_down = 1u << 1;
    solved_run(s);
    assert_int_equal(
        hbk_stuck_account(&s->notes, &s->arena, account, &s->faults), HBK_OK);
}

/* An ophicleide fitted to a page of a tuner. */
struct fitted {
    struct solved horn; /* read, not solved */
    struct hbk_readings readings;
    struct hbk_fit fit;
};

static const char tuner_page[] = "tests/data/readings/ophicleide.yaml";

static inline void fitted_open(struct fitted *f)
{
    solved_read(&f->horn, "ophicleide-c-9");
    assert_int_equal(
        hbk_readings_read(tuner_page, &f->readings, &f->horn.faults), HBK_OK);
    assert_int_equal(hbk_fit_horn(&f->horn.horn, &f->readings, &f->horn.arena,
                                  &f->fit, &f->horn.faults),
                     HBK_OK);
}

static inline void fitted_close(struct fitted *f)
{
    hbk_readings_finish(&f->readings);
    solved_close(&f->horn);
}

#endif
