#include "cli/passage_out.h"

#include "sheet/part.h"
#include "sheet/words.h"

#include <string.h>

static struct hbk_part_fingering
fingering_of(const struct hbk_passage_view *view, size_t event,
             struct hbk_arena *arena)
{
    struct hbk_part_fingering fingering = {.label = NULL};
    const size_t i = view->passage->note_of[event];
    if (i == HBK_TUNE_NONE) {
        return fingering;
    }
    const struct hbk_passage_note *const note = &view->passage->notes[i];
    char label[HBK_LABEL_SIZE];
    fingering.press = note->candidates->of[note->taken]->press;
    hbk_horn_press_label(view->notes->horn, fingering.press, label);
    fingering.label = hbk_arena_copy(arena, label, strlen(label));
    fingering.shown = hbk_passage_shows(view, event);
    fingering.departure = note->taken > 0;
    fingering.hard = note->playable_quarters > 0.0;
    return fingering;
}

/* For which horn, how fast, and at what pitch. */
static const char *heading_of(const struct hbk_passage_view *view,
                              struct hbk_arena *arena)
{
    const char *const setting = hbk_words_setting(arena, view->notes);
    return hbk_arena_printf(arena, "%s; %s; %s%s%s", view->notes->horn->name,
                            hbk_passage_tempo(view, arena),
                            hbk_words_pitch(arena, &view->notes->setting),
                            setting[0] == '\0' ? "" : ". ", setting);
}

enum hbk_status hbk_passage_part(const struct hbk_passage_view *view,
                                 const struct hbk_sheet_options *options,
                                 bool circles, const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet)
{
    struct hbk_arena arena = {0};
    const struct hbk_setting *const setting = &view->notes->setting;
    struct hbk_part_fingering *const fingerings = HBK_ARENA_ARRAY(
        &arena, struct hbk_part_fingering, view->tune->n_events + 1);
    for (size_t e = 0; e < view->tune->n_events; e++) {
        fingerings[e] = fingering_of(view, e, &arena);
    }
    struct hbk_part_words words = {.whom = options->whom,
                                   .heading = heading_of(view, &arena)};
    words.hard = hbk_passage_hard(view, &arena, &words.n_hard);
    const struct hbk_part_options part = {
        .paper = options->paper,
        .title = options->title,
        .first_bar = view->first,
        .n_bars = view->end - view->first,
        .other_tempo = view->quarters > 0.0,
        .circles = circles,
        .sounding = options->sounding,
        .sounds_higher_by = view->notes->written_c4_sounds - HBK_NOTE_C4,
        .stuck = setting->held_down | setting->held_up,
    };
    const enum hbk_status status = hbk_sheet_part(
        view->tune, fingerings, &words, &part, view->notes->horn, ruler, sheet);
    hbk_arena_finish(&arena);
    return status;
}
