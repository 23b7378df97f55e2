#include "report/passage_hard.h"

#include "report/passage_tempo.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* As many as help; the rest is a matter of practising, or of the tempo. */
enum { HARD_MAX = 12 };

/* A hard place; those that are like it are told with it. */
struct hard {
    size_t note; /* of the passage */
    size_t times;
    double pressed; /* the tempo over the one from which it is playable */
    /* What tells it from others: notes and fingerings of both ends. */
    size_t of[4];
};

static int by_size(size_t a, size_t b)
{
    return (a > b) - (a < b);
}

static int by_kind(const struct hard *x, const struct hard *y)
{
    if (x->pressed != y->pressed) {
        return x->pressed > y->pressed ? -1 : 1;
    }
    int order = 0;
    for (size_t i = 0; i < 4 && order == 0; i++) {
        order = by_size(x->of[i], y->of[i]);
    }
    return order;
}

/* The worst first, those alike together, in the order of the tune. */
static int by_worst(const void *a, const void *b)
{
    const struct hard *const x = a;
    const struct hard *const y = b;
    const int order = by_kind(x, y);
    return order != 0 ? order : by_size(x->note, y->note);
}

/* The hard places of the bars shown, each kind once; returns how many. */
static size_t find_kinds(const struct hbk_passage_view *view,
                         struct hard hard[])
{
    const struct hbk_passage *const passage = view->passage;
    size_t n = 0;
    for (size_t i = 0; i < passage->n; i++) {
        const struct hbk_passage_note *const note = &passage->notes[i];
        if (note->playable_quarters > 0.0 &&
            hbk_passage_in_bars(view, note->event)) {
            const struct hbk_passage_note *const before =
                &passage->notes[note->before];
            hard[n++] = (struct hard){
                .note = i,
                .times = 1,
                .pressed = note->quarters / note->playable_quarters,
                .of = {(size_t)before->candidates->note->written, before->taken,
                       (size_t)note->candidates->note->written, note->taken}};
        }
    }
    if (n > 0) {
        qsort(hard, n, sizeof(hard[0]), by_worst);
    }
    size_t kinds = 0;
    for (size_t i = 0; i < n; i++) {
        if (kinds > 0 && by_kind(&hard[kinds - 1], &hard[i]) == 0) {
            hard[kinds - 1].times++;
        } else {
            hard[kinds++] = hard[i];
        }
    }
    return kinds;
}

/* What hands or lip would have to do. */
static void say_what(const struct hbk_passage_view *view,
                     const struct hbk_passage_note *note,
                     char words[HBK_MOVE_WORDS_SIZE])
{
    const struct hbk_passage_note *const before =
        &view->passage->notes[note->before];
    const struct hbk_candidates *const a = before->candidates;
    const struct hbk_candidates *const b = note->candidates;
    if (note->lip_s > note->hands_s) {
        (void)snprintf(
            words, HBK_MOVE_WORDS_SIZE, "the lip goes from partial %u to %u",
            a->of[before->taken]->partial, b->of[note->taken]->partial);
        return;
    }
    hbk_passing_words(view->keywork, &a->grips[before->taken],
                      &b->grips[note->taken], ~(unsigned)HBK_MOVE_STAYS, words);
}

static const char *hard_words(const struct hbk_passage_view *view,
                              const struct hard *hard, bool is_brief,
                              struct hbk_arena *arena)
{
    const struct hbk_passage_note *const note =
        &view->passage->notes[hard->note];
    const struct hbk_tune_event *const events = view->tune->events;
    const size_t before = view->passage->notes[note->before].event;
    const enum hbk_naming naming = view->notes->notation.naming;
    char where[HBK_TUNE_WHERE_SIZE];
    char from[HBK_NAME_SIZE];
    char to[HBK_NAME_SIZE];
    char words[HBK_MOVE_WORDS_SIZE];
    char more[64] = "";
    say_what(view, note, words);
    if (hard->times > 1) {
        (void)snprintf(more, sizeof(more), " (and %zu like it)",
                       hard->times - 1);
    }
    const char *const takes =
        is_brief
            ? ""
            : hbk_arena_printf(arena,
                               " it takes about %.2f s: playable from about",
                               fmax(note->hands_s, note->lip_s));
    return hbk_arena_printf(
        arena, "%s%s, %s to %s: %s;%s %s down%s", is_brief ? "B" : "b",
        hbk_tune_where(view->tune, note->event, where) + 1,
        hbk_spelling_said(events[before].spelling, naming, HBK_UNICODE, from),
        hbk_spelling_said(events[note->event].spelling, naming, HBK_UNICODE,
                          to),
        words, is_brief ? " from" : takes,
        hbk_passage_pace(view, before, note->playable_quarters, arena), more);
}

/* At what tempo nothing is hard, the places being the worst first. */
static const char *all_words(const struct hbk_passage_view *view,
                             const struct hard *worst, size_t kinds,
                             struct hbk_arena *arena)
{
    const struct hbk_passage_note *const note =
        &view->passage->notes[worst->note];
    const size_t before = view->passage->notes[note->before].event;
    if (kinds == 1) {
        return "Times and tempos are estimates.";
    }
    const bool one_tempo =
        view->tune->n_tempos == 0 ||
        (view->tune->n_tempos == 1 && !view->passage->tempo_assumed);
    if (!isnan(view->quarters) || one_tempo) {
        return hbk_arena_printf(
            arena,
            "All of it from about %s down. Times and tempos are "
            "estimates.",
            hbk_passage_pace(view, before, note->playable_quarters, arena));
    }
    return hbk_arena_printf(arena,
                            "All of it from about %.0f %% of the tempos down. "
                            "Times and tempos are estimates.",
                            floor(100.0 / worst->pressed));
}

/* In the order of the tune. */
static int by_note(const void *a, const void *b)
{
    return by_size(((const struct hard *)a)->note,
                   ((const struct hard *)b)->note);
}

const char *const *hbk_passage_hard(const struct hbk_passage_view *view,
                                    struct hbk_arena *arena, size_t *n)
{
    struct hard *const hard =
        HBK_ARENA_ARRAY(arena, struct hard, view->passage->n + 1);
    const size_t kinds = find_kinds(view, hard);
    const size_t told = kinds < HARD_MAX ? kinds : HARD_MAX;
    const char **const lines =
        HBK_ARENA_ARRAY(arena, const char *, HARD_MAX + 2);
    for (*n = 0; *n < told; (*n)++) {
        lines[*n] = hard_words(view, &hard[*n], false, arena);
    }
    if (kinds > told) {
        lines[(*n)++] = hbk_arena_printf(arena, "and %zu more that are easier",
                                         kinds - told);
    }
    if (kinds > 0) {
        lines[(*n)++] = all_words(view, &hard[0], kinds, arena);
    }
    return lines;
}

const char **hbk_passage_worst(const struct hbk_passage_view *view, size_t most,
                               struct hbk_arena *arena, size_t *n)
{
    struct hard *const hard =
        HBK_ARENA_ARRAY(arena, struct hard, view->passage->n + 1);
    const size_t kinds = find_kinds(view, hard);
    const char **const lines = HBK_ARENA_ARRAY(arena, const char *, most + 1);
    *n = kinds < most ? kinds : most;
    if (*n > 0) {
        qsort(hard, *n, sizeof(hard[0]), by_note);
    }
    for (size_t i = 0; i < *n; i++) {
        lines[i] = hard_words(view, &hard[i], true, arena);
    }
    return lines;
}

const char *hbk_passage_playable(const struct hbk_passage_view *view,
                                 struct hbk_arena *arena)
{
    struct hard *const hard =
        HBK_ARENA_ARRAY(arena, struct hard, view->passage->n + 1);
    if (find_kinds(view, hard) == 0) {
        return NULL;
    }
    const struct hbk_passage_note *const note =
        &view->passage->notes[hard[0].note];
    return hbk_passage_pace(view, view->passage->notes[note->before].event,
                            note->playable_quarters, arena);
}
