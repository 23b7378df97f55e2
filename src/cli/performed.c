#include "cli/performed.h"

#include "solve/ranking.h"

#include <math.h>
#include <string.h>

enum {
    H_TOO_LONG = 300,
    H_OUT_OF_REACH = 301,
    H_KEPT_UNKNOWN = 302,
    H_KEPT_UNPLAYABLE = 303,
    H_MOVED_OUT = 304
};

static enum hbk_status move_tune(const struct hbk_options *options,
                                 const struct hbk_tune *tune,
                                 struct hbk_arena *arena,
                                 struct hbk_performed *performed,
                                 struct hbk_faults *faults)
{
    struct hbk_passage_view *const view = &performed->view;
    const bool from_sounding = options->from_sounding || tune->concert;
    performed->tune = *tune;
    if (!from_sounding && tune->transpose == 0) {
        return HBK_OK;
    }
    view->moved =
        hbk_tune_shift_for(tune, view->notes->written_c4_sounds, from_sounding);
    if (view->moved == 0) {
        return HBK_OK;
    }
    const enum hbk_status status =
        hbk_tune_transposed(tune, view->moved, arena, &performed->tune);
    if (status != HBK_OK) {
        hbk_fault_add(faults, (struct hbk_place){.file = tune->file},
                      H_MOVED_OUT,
                      "moved by %d semitones for this horn, a note leaves the "
                      "range from C-1 to G9",
                      view->moved);
    }
    return status;
}

enum hbk_status
hbk_perform(const struct hbk_options *options, const struct hbk_tune *tune,
            const struct hbk_notes *notes, struct hbk_arena *arena,
            struct hbk_performed *performed, struct hbk_faults *faults)
{
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    const size_t others =
        isnan(options->choices) ? 1 : (size_t)options->choices;
    *performed = (struct hbk_performed){
        .view = {.notes = notes,
                 .keywork = &performed->keywork,
                 .tune = &performed->tune,
                 .passage = &performed->passage,
                 .quarters = isnan(options->tempo) ? 0.0 : options->tempo,
                 .end = tune->n_bars,
                 .others = others,
                 .other_ways = !isnan(options->choices),
                 .only_departures = options->only_departures,
                 .sounding = options->sounding}};
    HBK_TRY(move_tune(options, tune, arena, performed, faults));
    hbk_keywork_make(notes->horn, &prices, &performed->keywork);
    const struct hbk_passage_request request = {
        .notes = notes,
        .keywork = &performed->keywork,
        .tune = &performed->tune,
        .quarters = performed->view.quarters,
        .keep = options->keep,
        .ways = others + 1,
    };
    const enum hbk_status status =
        hbk_passage_find(&request, arena, &performed->passage);
    if (status != HBK_OK) {
        hbk_fault_add(faults, (struct hbk_place){.file = tune->file},
                      H_TOO_LONG,
                      "with its repeats the tune has more than %d notes and "
                      "rests; give it fewer repeats, or take a part of it",
                      HBK_PASSAGE_PLAYED_MAX);
    }
    return status;
}

/* The bar of that number, the last of them if `last`; n_bars for none. */
static size_t find_bar(const struct hbk_tune *tune, const char *number,
                       size_t length, bool last)
{
    size_t found = tune->n_bars;
    for (size_t b = 0; b < tune->n_bars; b++) {
        const char *const name = tune->bars[b].number;
        if (strlen(name) == length && memcmp(name, number, length) == 0) {
            found = b;
            if (!last) {
                break;
            }
        }
    }
    return found;
}

bool hbk_perform_bars(struct hbk_performed *performed, const char *bars,
                      struct hbk_text *why)
{
    const struct hbk_tune *const tune = &performed->tune;
    if (bars == NULL) {
        return true;
    }
    const size_t length = strcspn(bars, "-");
    const char *const to = bars[length] == '-' ? bars + length + 1 : bars;
    const size_t first = find_bar(tune, bars, length, false);
    const size_t last =
        find_bar(tune, to, bars[length] == '-' ? strlen(to) : length, true);
    if (first == tune->n_bars || last == tune->n_bars || last < first) {
        hbk_text_addf(why,
                      "takes bars as 23-26 or 23, not '%s'; this tune goes "
                      "from bar %s to bar %s",
                      bars, tune->bars[0].number,
                      tune->bars[tune->n_bars - 1].number);
        return false;
    }
    performed->view.first = first;
    performed->view.end = last + 1;
    return true;
}

/* "bar 1, beat 2" and "D4" of an event. */
struct named {
    char where[HBK_TUNE_WHERE_SIZE];
    char note[HBK_NAME_SIZE];
};

static struct named name_event(const struct hbk_tune *tune, size_t event)
{
    struct named named;
    (void)hbk_tune_where(tune, event, named.where);
    (void)hbk_spelling_name(tune->events[event].spelling, HBK_UNICODE,
                            named.note);
    return named;
}

void hbk_perform_tell_out(const struct hbk_performed *performed,
                          struct hbk_faults *faults)
{
    const struct hbk_tune *const tune = &performed->tune;
    for (size_t i = 0; i < performed->passage.n_out; i++) {
        const size_t e = performed->passage.out[i];
        const struct named named = name_event(tune, e);
        hbk_fault_add(faults, tune->events[e].place, H_OUT_OF_REACH,
                      "%s: %s is out of reach of this horn", named.where,
                      named.note);
    }
}

const char *hbk_perform_first_out(const struct hbk_performed *performed,
                                  struct hbk_arena *arena)
{
    const struct named named =
        name_event(&performed->tune, performed->passage.out[0]);
    return hbk_arena_printf(arena, "%s: %s", named.where, named.note);
}

void hbk_perform_tell_kept(const struct hbk_performed *performed,
                           struct hbk_faults *faults)
{
    for (size_t i = 0; i < performed->passage.n; i++) {
        const struct hbk_passage_note *const note =
            &performed->passage.notes[i];
        const struct hbk_tune_event *const event =
            &performed->tune.events[note->event];
        const struct named named = name_event(&performed->tune, note->event);
        if (note->kept == HBK_PASSAGE_UNKNOWN) {
            hbk_fault_warn(faults, event->place, H_KEPT_UNKNOWN,
                           "%s: '%.40s' is no fingering of this horn; another "
                           "is chosen for %s",
                           named.where, event->fingering, named.note);
        } else if (note->kept == HBK_PASSAGE_UNPLAYABLE) {
            hbk_fault_warn(faults, event->place, H_KEPT_UNPLAYABLE,
                           "%s: this horn does not play %s with '%.40s'; "
                           "another is chosen",
                           named.where, named.note, event->fingering);
        }
    }
}
