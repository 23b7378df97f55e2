#include "cli/passage_out.h"

#include <math.h>
#include <stdio.h>

const char *hbk_passage_tempo(const struct hbk_passage_view *view,
                              struct hbk_arena *arena)
{
    const struct hbk_tune *const tune = view->tune;
    if (view->quarters > 0.0) {
        return hbk_arena_printf(arena, "%g quarter notes a minute, as asked",
                                view->quarters);
    }
    if (view->passage->tempo_assumed) {
        return hbk_arena_printf(
            arena,
            "%d quarter notes a minute, for the tune gives none%s; say "
            "another with --tempo",
            HBK_TUNE_ASSUMED_QUARTERS,
            tune->n_tempos > 0 ? " at its beginning" : "");
    }
    return hbk_arena_printf(arena, "%g quarter notes a minute%s, as written",
                            tune->tempos[0].quarters,
                            tune->n_tempos > 1 ? " at first" : "");
}

/* A hard place that is like others is told once, with their number. */
struct hard {
    size_t note, times;
};

/* As many as help; the rest is a matter of practising, or of the tempo. */
enum { HARD_MAX = 12 };

/* Whether two hard places ask the same in the same time. */
static bool are_alike(const struct hbk_passage *passage,
                      const struct hbk_passage_note *a,
                      const struct hbk_passage_note *b)
{
    const struct hbk_passage_note *const x = &passage->notes[a->before];
    const struct hbk_passage_note *const y = &passage->notes[b->before];
    return a->candidates == b->candidates && a->taken == b->taken &&
           x->candidates == y->candidates && x->taken == y->taken &&
           a->available_s == b->available_s && a->quarters == b->quarters;
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
    hbk_move_words(view->keywork, &a->grips[before->taken],
                   &b->grips[note->taken], ~(unsigned)HBK_MOVE_STAYS, words);
}

static const char *hard_words(const struct hbk_passage_view *view,
                              const struct hard *hard, struct hbk_arena *arena)
{
    const struct hbk_passage_note *const note =
        &view->passage->notes[hard->note];
    const struct hbk_tune_event *const events = view->tune->events;
    const size_t before = view->passage->notes[note->before].event;
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
    return hbk_arena_printf(
        arena,
        "%s, %s to %s: %s; it takes %.3f s and there are %.3f s: playable at "
        "%.0f quarter notes a minute%s",
        hbk_tune_where(view->tune, note->event, where),
        hbk_spelling_name(events[before].spelling, HBK_UNICODE, from),
        hbk_spelling_name(events[note->event].spelling, HBK_UNICODE, to), words,
        fmax(note->hands_s, note->lip_s), note->available_s,
        floor(note->playable_quarters), more);
}

/* Counts a hard place; false when there is no room for one more kind. */
static bool count(const struct hbk_passage *passage, size_t note,
                  struct hard hard[HARD_MAX], size_t *n)
{
    for (size_t k = 0; k < *n; k++) {
        if (are_alike(passage, &passage->notes[hard[k].note],
                      &passage->notes[note])) {
            hard[k].times++;
            return true;
        }
    }
    if (*n == HARD_MAX) {
        return false;
    }
    hard[(*n)++] = (struct hard){.note = note, .times = 1};
    return true;
}

const char *const *hbk_passage_hard(const struct hbk_passage_view *view,
                                    struct hbk_arena *arena, size_t *n)
{
    const struct hbk_passage *const passage = view->passage;
    struct hard hard[HARD_MAX];
    size_t beyond = 0;
    *n = 0;
    for (size_t i = 0; i < passage->n; i++) {
        const size_t bar = view->tune->events[passage->notes[i].event].bar;
        if (passage->notes[i].playable_quarters > 0.0 && bar >= view->first &&
            bar < view->end) {
            beyond += count(passage, i, hard, n) ? 0 : 1;
        }
    }
    const char **const lines =
        HBK_ARENA_ARRAY(arena, const char *, HARD_MAX + 1);
    for (size_t k = 0; k < *n; k++) {
        lines[k] = hard_words(view, &hard[k], arena);
    }
    if (beyond > 0) {
        lines[(*n)++] = hbk_arena_printf(arena, "and %zu more", beyond);
    }
    return lines;
}
