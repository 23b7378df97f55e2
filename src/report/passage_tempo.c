#include "report/passage_tempo.h"

#include <math.h>

/* What a tempo counts; quarters where the source does not say. */
static struct hbk_ratio beat_of(const struct hbk_tune_tempo *tempo)
{
    return tempo != NULL && tempo->beat.num > 0
               ? tempo->beat
               : (struct hbk_ratio){.num = 1, .den = 4};
}

static const char *beat_name(struct hbk_ratio beat, struct hbk_arena *arena)
{
    static const struct {
        struct hbk_ratio beat;
        const char *name;
    } names[] = {
        {{1, 1}, "whole note"},     {{3, 2}, "dotted whole note"},
        {{1, 2}, "half note"},      {{3, 4}, "dotted half note"},
        {{1, 4}, "quarter"},        {{3, 8}, "dotted quarter"},
        {{1, 8}, "eighth"},         {{3, 16}, "dotted eighth"},
        {{1, 16}, "sixteenth"},     {{3, 32}, "dotted sixteenth"},
        {{1, 32}, "thirty-second"},
    };
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        if (hbk_ratio_equal(names[i].beat, beat)) {
            return names[i].name;
        }
    }
    char text[HBK_RATIO_TEXT];
    return hbk_arena_printf(arena, "%s of a whole note",
                            hbk_ratio_text(beat, text));
}

static const char *mark(struct hbk_ratio beat, double quarters,
                        struct hbk_arena *arena)
{
    return hbk_arena_printf(arena, "%s = %.4g", beat_name(beat, arena),
                            quarters / (4.0 * hbk_ratio_value(beat)));
}

const char *hbk_passage_pace(const struct hbk_passage_view *view, size_t event,
                             double quarters, struct hbk_arena *arena)
{
    const struct hbk_tune_tempo *const tempo =
        isnan(view->quarters) ? hbk_tune_tempo_at(view->tune, event) : NULL;
    const struct hbk_ratio beat = beat_of(tempo);
    const double beats = quarters / (4.0 * hbk_ratio_value(beat));
    /* Downwards, so that it holds; below ten, whole beats are too coarse. */
    const double step = beats < 10.0 ? 0.1 : 1.0;
    return hbk_arena_printf(arena, "%s = %g", beat_name(beat, arena),
                            floor((beats / step) + 1e-9) * step);
}

const char *hbk_passage_tempo(const struct hbk_passage_view *view,
                              struct hbk_arena *arena)
{
    const struct hbk_tune *const tune = view->tune;
    const struct hbk_ratio quarter = beat_of(NULL);
    if (!isnan(view->quarters)) {
        return hbk_arena_printf(arena, "%s, as asked",
                                mark(quarter, view->quarters, arena));
    }
    if (view->passage->tempo_assumed) {
        return hbk_arena_printf(arena, "%s, for the tune gives none%s",
                                mark(quarter, HBK_TUNE_ASSUMED_QUARTERS, arena),
                                tune->n_tempos > 0 ? " at its beginning" : "");
    }
    return hbk_arena_printf(
        arena, "%s%s, at the tempo written",
        mark(beat_of(&tune->tempos[0]), tune->tempos[0].quarters, arena),
        tune->n_tempos > 1 ? " at first" : "");
}
