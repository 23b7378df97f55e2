#include "sheet/primer/primer_compose.h"

#include <assert.h>

enum { BAR = 8 }; /* eighths */

static const struct hbk_place nowhere = {.file = NULL};

void hbk_compose_begin(struct hbk_composer *composer, enum hbk_clef clef,
                       struct hbk_arena *arena)
{
    struct hbk_tune *const tune = HBK_ARENA_ARRAY(arena, struct hbk_tune, 1);
    tune->title = tune->composer = tune->part = tune->voice = "";
    tune->subtitle = tune->lyricist = tune->arranger = tune->rights = "";
    *composer = (struct hbk_composer){0};
    composer->build = (struct hbk_build){.arena = arena,
                                         .faults = &composer->faults,
                                         .tune = tune,
                                         .bars_to_number = true};
    hbk_build_set_meter(&composer->build,
                        (struct hbk_tune_meter){.beats = 4, .unit = 4});
    hbk_build_set_key(&composer->build, hbk_build_key(0, "major"));
    hbk_build_set_clef(&composer->build, hbk_tune_clef_of(clef));
}

void hbk_compose_key(struct hbk_composer *composer, int fifths,
                     const char *mode)
{
    if (composer->filled > 0) {
        hbk_compose_bar(composer, true);
    }
    hbk_build_set_key(&composer->build, hbk_build_key(fifths, mode));
    composer->fifths = fifths;
}

static void add(struct hbk_composer *composer, struct hbk_tune_event event,
                int eighths)
{
    if (composer->filled == 0) {
        (void)hbk_build_open_bar(&composer->build, nowhere);
    }
    (void)hbk_ratio_make(eighths, BAR, &event.length);
    (void)hbk_build_add(&composer->build, event);
    composer->filled += eighths;
    assert(composer->filled <= BAR);
    if (composer->filled == BAR) {
        composer->filled = 0;
    }
}

void hbk_compose_note(struct hbk_composer *composer,
                      struct hbk_spelling spelling, int eighths, unsigned what)
{
    struct hbk_tune_event event = hbk_build_blank(HBK_TUNE_NOTE, nowhere);
    event.spelling = spelling;
    event.note = hbk_spelling_note(spelling);
    event.slur_starts = (what & HBK_COMPOSED_SLUR) != 0 ? 1 : 0;
    event.slur_stops = (what & HBK_COMPOSED_UNSLUR) != 0 ? 1 : 0;
    event.articulation =
        (what & HBK_COMPOSED_TRILL) != 0 ? (unsigned)HBK_TUNE_TRILL : 0U;
    add(composer, event, eighths);
}

void hbk_compose_bar(struct hbk_composer *composer, bool is_double)
{
    /* As few rests as show what is left: whole halves and quarters first. */
    for (int rest = BAR / 2; composer->filled > 0 && rest > 0; rest /= 2) {
        if (composer->filled % rest == 0 && composer->filled + rest <= BAR) {
            add(composer, hbk_build_blank(HBK_TUNE_REST, nowhere), rest);
            rest = BAR;
        }
    }
    if (is_double && composer->build.tune->n_bars > 0) {
        hbk_build_last_bar(&composer->build)->right = HBK_TUNE_BAR_DOUBLE;
    }
}

const struct hbk_tune *hbk_compose_end(struct hbk_composer *composer)
{
    if (composer->build.tune->n_events == 0) {
        return NULL;
    }
    hbk_compose_bar(composer, false);
    hbk_build_last_bar(&composer->build)->right = HBK_TUNE_BAR_FINAL;
    const enum hbk_status status = hbk_build_finish(&composer->build);
    assert(status == HBK_OK);
    (void)status;
    return composer->build.tune;
}
