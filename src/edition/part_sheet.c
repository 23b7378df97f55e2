#include "edition/part_sheet.h"

#include "base/text.h"
#include "edition/part_given.h"
#include "horn/about.h"
#include "horn/press.h"
#include "report/passage_hard.h"
#include "report/passage_moved.h"
#include "report/passage_tempo.h"
#include "sheet/part/part_sheet.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"

#include <math.h>
#include <string.h>

/* "G3 in bars 4 and 9; A3 in bar 5" of the bars shown; NULL for none. */
static const char *out_of_reach(const struct hbk_passage_view *view,
                                struct hbk_arena *arena)
{
    const struct hbk_tune *const tune = view->tune;
    const size_t n = view->passage->n_out;
    bool *const told = HBK_ARENA_ARRAY(arena, bool, n + 1);
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < n; i++) {
        const struct hbk_tune_event *const first =
            &tune->events[view->passage->out[i]];
        if (told[i] || first->bar < view->first || first->bar >= view->end) {
            continue;
        }
        char name[HBK_NAME_SIZE];
        hbk_spelling_said(first->spelling, view->notes->notation.naming,
                          HBK_UNICODE, name);
        struct hbk_text bars = {.arena = arena};
        size_t n_bars = 0;
        const char *last = NULL;
        for (size_t k = i; k < n; k++) {
            const struct hbk_tune_event *const event =
                &tune->events[view->passage->out[k]];
            if (event->bar >= view->end || event->note != first->note) {
                continue;
            }
            told[k] = true;
            const char *const number = tune->bars[event->bar].number;
            if (last == NULL || strcmp(last, number) != 0) {
                hbk_text_addf(&bars, "%s%s", n_bars > 0 ? ", " : "", number);
                n_bars++;
            }
            last = number;
        }
        hbk_text_addf(&text, "%s%s in bar%s %s", text.length > 0 ? "; " : "",
                      name, n_bars > 1 ? "s" : "", hbk_text_string(&bars));
    }
    return text.length > 0 ? hbk_text_string(&text) : NULL;
}

static const char *label_of(const struct hbk_passage_view *view, uint32_t press,
                            struct hbk_arena *arena)
{
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(view->notes->horn, press, label);
    return hbk_arena_copy(arena, label, strlen(label));
}

/* The upper note of a trill, NULL where there is no trill. */
static const struct hbk_part_press *
trill_of(const struct hbk_passage_view *view,
         const struct hbk_passage_note *note, struct hbk_arena *arena)
{
    if (!note->wants_trill) {
        return NULL;
    }
    struct hbk_part_press *const trill =
        HBK_ARENA_ARRAY(arena, struct hbk_part_press, 1);
    if (note->trill.kind != HBK_TRILL_NONE) {
        trill->press = note->trill.upper->press;
        trill->label = label_of(view, trill->press, arena);
    }
    return trill;
}

static const struct hbk_part_press *
others_of(const struct hbk_passage_view *view,
          const struct hbk_passage_note *note, size_t most,
          struct hbk_arena *arena, size_t *n)
{
    struct hbk_part_press *const others =
        HBK_ARENA_ARRAY(arena, struct hbk_part_press, most + 1);
    for (*n = 0; *n < most && *n + 1 < note->n_choices; (*n)++) {
        const size_t candidate = note->choices[*n + 1].candidate;
        others[*n].press = note->candidates->of[candidate]->press;
        others[*n].label = label_of(view, others[*n].press, arena);
    }
    return others;
}

static struct hbk_part_fingering
fingering_of(const struct hbk_passage_view *view, size_t event, size_t others,
             struct hbk_arena *arena)
{
    struct hbk_part_fingering fingering = {.label = NULL};
    const size_t i = view->passage->note_of[event];
    if (i == HBK_TUNE_NONE) {
        fingering.unreachable = hbk_passage_is_out(view->passage, event);
        return fingering;
    }
    const struct hbk_passage_note *const note = &view->passage->notes[i];
    fingering.press = note->candidates->of[note->taken]->press;
    fingering.label = label_of(view, fingering.press, arena);
    fingering.shown = hbk_passage_shows(view, event);
    fingering.departure = note->taken > 0;
    fingering.hard = note->playable_quarters > 0.0;
    fingering.trill = trill_of(view, note, arena);
    fingering.others =
        others_of(view, note, others, arena, &fingering.n_others);
    return fingering;
}

/* "written C sounds B♭, a tone lower; " where --reads asked. */
static const char *sounds_of(const struct hbk_passage_view *view,
                             struct hbk_arena *arena)
{
    const char *const words = hbk_words_read_sounds(arena, view->notes);
    return view->notes->setting.reads == HBK_READS_OWN
               ? ""
               : hbk_arena_printf(arena, "w%s; ", words + 1);
}

/* For which horn, how fast, at what pitch, and where its slides are. */
static const char *heading_of(const struct hbk_passage_view *view,
                              struct hbk_arena *arena)
{
    const char *const rest =
        hbk_words_rest(arena, view->notes, HBK_WORDS_BRIEF);
    const char *const not_to_learn = hbk_words_not_to_learn(arena, view->notes);
    const char *const line = hbk_line_words(arena, &view->tune->line);
    return hbk_arena_printf(arena, "%s; %s%s%s%s; %s%s%s%s%s",
                            hbk_horn_name(view->notes->horn), line,
                            line[0] == '\0' ? "" : "; ", sounds_of(view, arena),
                            hbk_passage_tempo(view, arena),
                            hbk_words_set(arena, view->notes, HBK_WORDS_BRIEF),
                            rest[0] == '\0' ? "" : " ", rest,
                            not_to_learn[0] == '\0' ? "" : " ", not_to_learn);
}

void hbk_part_give(const struct hbk_passage_view *view,
                   const struct hbk_sheet_options *options, bool circles,
                   size_t others, struct hbk_arena *arena,
                   struct hbk_part_given *given)
{
    const struct hbk_setting *const setting = &view->notes->setting;
    given->fingerings = HBK_ARENA_ARRAY(arena, struct hbk_part_fingering,
                                        view->tune->n_events + 1);
    for (size_t e = 0; e < view->tune->n_events; e++) {
        given->fingerings[e] = fingering_of(view, e, others, arena);
    }
    given->words = (struct hbk_part_words){.whom = options->whom,
                                           .heading = heading_of(view, arena)};
    given->words.moved = hbk_passage_moved(view, arena);
    given->words.out = out_of_reach(view, arena);
    given->words.hard = hbk_passage_hard(view, arena, &given->words.n_hard);
    given->options = (struct hbk_part_options){
        .paper = options->paper,
        .title = options->title,
        .first_bar = view->first,
        .n_bars = view->end - view->first,
        .other_tempo = !isnan(view->quarters),
        .circles = circles,
        .sounding = options->sounding,
        .sounds_higher_by = view->notes->written_c4_sounds - HBK_NOTE_C4 -
                            view->notes->notation.shift,
        .naming = view->notes->notation.naming,
        .stuck = setting->stuck.held_down | setting->stuck.held_up,
    };
}

enum hbk_status hbk_passage_part(const struct hbk_passage_view *view,
                                 const struct hbk_sheet_options *options,
                                 bool circles, const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet)
{
    struct hbk_arena arena = {0};
    struct hbk_part_given given;
    hbk_part_give(view, options, circles, view->other_ways ? view->others : 0,
                  &arena, &given);
    const enum hbk_status status =
        hbk_sheet_part(view->tune, given.fingerings, &given.words,
                       &given.options, view->notes->horn, ruler, sheet);
    hbk_arena_finish(&arena);
    return status;
}
