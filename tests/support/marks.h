#ifndef HBK_TESTS_MARKS_H
#define HBK_TESTS_MARKS_H

#include "support/tunes.h"

/* The marks of a tune as text, one a line. */

/* "2+1/4 e5": the second bar, a quarter after its beginning, event 5. */
static inline void put_spot(const struct hbk_tune *tune,
                            const struct hbk_tune_spot *spot,
                            struct hbk_text *out)
{
    struct hbk_ratio since;
    char text[HBK_RATIO_TEXT];
    assert_true(spot->bar < tune->n_bars);
    const struct hbk_tune_bar *const bar = &tune->bars[spot->bar];
    assert_true(hbk_ratio_sub(spot->time, bar->onset, &since));
    assert_true(since.num >= 0);
    assert_true(hbk_ratio_compare(since, bar->length) <= 0);
    if (bar->count > 0) {
        assert_true(spot->event >= bar->first);
        assert_true(spot->event < bar->first + bar->count);
    }
    hbk_text_addf(out, " %zu+%s e%zu", spot->bar + 1,
                  hbk_ratio_text(since, text), spot->event);
}

static inline void put_metronome(const struct hbk_tune_metronome *metronome,
                                 struct hbk_text *out)
{
    char beat[HBK_RATIO_TEXT];
    char equals[HBK_RATIO_TEXT];
    if (metronome->beat.num > 0) {
        hbk_text_addf(out, " [%s=%s%s]%s",
                      hbk_ratio_text(metronome->beat, beat), metronome->count,
                      metronome->equals.num > 0
                          ? hbk_ratio_text(metronome->equals, equals)
                          : "",
                      metronome->in_parentheses ? "()" : "");
    }
}

static inline const char *describe_marks(const struct hbk_tune *tune,
                                         struct hbk_arena *arena)
{
    static const char *const kinds[] = {[HBK_TUNE_MARK_DYNAMIC] = "dynamic",
                                        [HBK_TUNE_MARK_CRESCENDO] = "crescendo",
                                        [HBK_TUNE_MARK_DIMINUENDO] =
                                            "diminuendo",
                                        [HBK_TUNE_MARK_WORDS] = "words",
                                        [HBK_TUNE_MARK_TEMPO] = "tempo",
                                        [HBK_TUNE_MARK_REHEARSAL] = "rehearsal",
                                        [HBK_TUNE_MARK_SEGNO] = "segno",
                                        [HBK_TUNE_MARK_CODA] = "coda",
                                        [HBK_TUNE_MARK_JUMP] = "jump",
                                        [HBK_TUNE_MARK_FERMATA] = "fermata",
                                        [HBK_TUNE_MARK_PLUS] = "plus",
                                        [HBK_TUNE_MARK_OPEN] = "open"};
    static const char *const sides[] = {"", " above", " below"};
    struct hbk_text out = {.arena = arena};
    for (size_t i = 0; i < tune->marks.n; i++) {
        const struct hbk_tune_mark *const mark = &tune->marks.items[i];
        hbk_text_addf(&out, "%s%s%s%s", kinds[mark->kind], sides[mark->side],
                      mark->text[0] == '\0' ? "" : " ", mark->text);
        put_metronome(&mark->metronome, &out);
        put_spot(tune, &mark->at, &out);
        if (hbk_ratio_compare(mark->end.time, mark->at.time) > 0) {
            hbk_text_add(&out, " to");
            put_spot(tune, &mark->end, &out);
        }
        hbk_text_add(&out, mark->to_nothing ? " niente\n" : "\n");
    }
    for (size_t i = 0; i < tune->marks.n_syllables; i++) {
        const struct hbk_tune_syllable *const syllable =
            &tune->marks.syllables[i];
        assert_true(syllable->verse >= 1);
        assert_true(syllable->verse <= tune->marks.n_verses);
        assert_true(tune->events[syllable->event].kind != HBK_TUNE_REST);
        assert_true(syllable->last >= syllable->event);
        assert_true(syllable->last < tune->n_events);
        hbk_text_addf(&out, "%u e%zu %s%s", syllable->verse, syllable->event,
                      syllable->text, syllable->hyphen ? "-" : "");
        if (syllable->last != syllable->event) {
            hbk_text_addf(&out, " to e%zu", syllable->last);
        }
        hbk_text_add(&out, "\n");
    }
    for (size_t i = 0; i < tune->marks.n_stanzas; i++) {
        hbk_text_addf(&out, "stanza %s\n", tune->marks.stanzas[i]);
    }
    for (size_t b = 0; b < tune->n_bars; b++) {
        if (tune->bars[b].rests > 0) {
            hbk_text_addf(&out, "rests %u at %zu\n", tune->bars[b].rests,
                          b + 1);
        }
    }
    for (size_t i = 0; i < tune->marks.n_left_out; i++) {
        hbk_text_addf(&out, "left out: %zu %s\n", tune->marks.left_out[i].count,
                      tune->marks.left_out[i].one);
    }
    return hbk_text_string(&out);
}

/* Reads text whose marks must be these. */
static inline void check_marks(const char *name, const char *text,
                               const char *want)
{
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good(name, text, &document, &faults);
    const char *const got = describe_marks(&document.tune, &arena);
    if (strcmp(got, want) != 0) {
        print_error("of: %s\n", text);
        print_faults(&faults);
    }
    assert_string_equal(got, want);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

#endif
