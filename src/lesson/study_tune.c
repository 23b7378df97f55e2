#include "lesson/study_tune.h"

#include "lesson/pupil.h"
#include "tune/melody/build.h"

#include <assert.h>

/* A build into a new tune in 4/4. */
static struct hbk_build begin(int fifths, enum hbk_clef clef,
                              struct hbk_faults *faults,
                              struct hbk_arena *arena)
{
    struct hbk_tune *const tune = HBK_ARENA_ARRAY(arena, struct hbk_tune, 1);
    tune->title = tune->composer = tune->part = tune->voice = "";
    tune->subtitle = tune->lyricist = tune->arranger = tune->rights = "";
    struct hbk_build build = {
        .arena = arena, .faults = faults, .tune = tune, .bars_to_number = true};
    hbk_build_set_meter(&build, (struct hbk_tune_meter){.beats = 4, .unit = 4});
    hbk_build_set_key(&build, hbk_build_key(fifths, "major"));
    hbk_build_set_clef(&build, hbk_tune_clef_of(clef));
    return build;
}

/* What is made by rule has nothing wrong with it. */
static const struct hbk_tune *finish(struct hbk_build *build)
{
    hbk_build_last_bar(build)->right = HBK_TUNE_BAR_FINAL;
    const enum hbk_status status = hbk_build_finish(build);
    assert(status == HBK_OK);
    (void)status;
    return build->tune;
}

static void add(struct hbk_build *build, const struct hbk_line_note *note,
                struct hbk_spelling spelling)
{
    const struct hbk_place nowhere = {.file = NULL};
    struct hbk_tune_event event = hbk_build_blank(HBK_TUNE_REST, nowhere);
    if (note->written != HBK_LINE_REST) {
        event.kind = HBK_TUNE_NOTE;
        event.note = note->written;
        event.spelling = spelling;
        event.slur_starts = note->slur ? 1 : 0;
        event.slur_stops = note->unslur ? 1 : 0;
        event.articulation = note->breath ? (unsigned)HBK_TUNE_BREATH : 0U;
    }
    (void)hbk_ratio_make(note->eighths, HBK_LINE_EIGHTHS, &event.length);
    (void)hbk_build_add(build, event);
}

/* Eighths in pairs on one beat are beamed. */
static void beam(struct hbk_tune *tune, const struct hbk_line *line)
{
    int at = 0;
    for (size_t i = 0; i + 1 < line->n; i++) {
        const struct hbk_line_note *const pair = &line->notes[i];
        if (at % 2 == 0 && pair[0].eighths == 1 && pair[1].eighths == 1) {
            tune->events[i].beam = HBK_TUNE_BEAM_BEGIN;
            tune->events[i + 1].beam = HBK_TUNE_BEAM_END;
        }
        at += pair->eighths;
    }
}

const struct hbk_tune *hbk_line_tune(const struct hbk_line *line, int fifths,
                                     enum hbk_clef clef,
                                     struct hbk_arena *arena)
{
    struct hbk_faults faults = {0};
    struct hbk_build build = begin(fifths, clef, &faults, arena);
    const struct hbk_place nowhere = {.file = NULL};
    size_t bar = 0;
    for (size_t i = 0; i < line->n; i++) {
        if (bar < line->n_bars && line->first[bar] == i) {
            (void)hbk_build_open_bar(&build, nowhere);
            bar++;
        }
        add(&build, &line->notes[i],
            hbk_spelling_in_key(line->notes[i].written, fifths));
    }
    beam(build.tune, line);
    return finish(&build);
}

const struct hbk_tune *hbk_long_notes(const struct hbk_spelling notes[],
                                      size_t n, enum hbk_clef clef,
                                      struct hbk_arena *arena)
{
    struct hbk_faults faults = {0};
    struct hbk_build build = begin(0, clef, &faults, arena);
    const struct hbk_place nowhere = {.file = NULL};
    enum { HALF = HBK_LINE_EIGHTHS / 2 };
    for (size_t i = 0; i < n; i++) {
        struct hbk_line_note note = {.written = hbk_spelling_note(notes[i]),
                                     .eighths = HBK_LINE_EIGHTHS};
        (void)hbk_build_open_bar(&build, nowhere);
        add(&build, &note, notes[i]);
        (void)hbk_build_open_bar(&build, nowhere);
        note.eighths = HALF;
        add(&build, &note, notes[i]);
        note.written = HBK_LINE_REST;
        add(&build, &note, notes[i]);
    }
    return finish(&build);
}
