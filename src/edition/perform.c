#include "edition/perform.h"

#include "base/messages.h"
#include "passage/find.h"
#include "solve/fingering_prices.h"
#include "tune/melody/transpose.h"

#include <math.h>
#include <string.h>

struct hbk_perform_ask hbk_perform_ask_none(void)
{
    return (struct hbk_perform_ask){.tempo = (double)NAN,
                                    .choices = (double)NAN};
}

static enum hbk_status tell_range(const struct hbk_tune *tune, int semitones,
                                  struct hbk_faults *faults)
{
    hbk_fault_add(faults, (struct hbk_place){.file = tune->file},
                  HBK_H_MOVED_OUT_OF_RANGE,
                  "moved by %d semitones for this horn, a note leaves the "
                  "range from C-1 to G9",
                  semitones);
    return HBK_ERR_DOMAIN;
}

/* A clef as music has it. */
static struct hbk_tune_clef clef_read(enum hbk_clef clef)
{
    static const struct hbk_tune_clef clefs[HBK_CLEF_COUNT] = {
        [HBK_TREBLE] = {.sign = 'G', .line = 2},
        [HBK_BASS] = {.sign = 'F', .line = 4},
        [HBK_ALTO] = {.sign = 'C', .line = 3},
        [HBK_TENOR] = {.sign = 'C', .line = 4}};
    return clefs[clef];
}

/* The tune of the file for whoever reads it: in one clef throughout. */
static enum hbk_status read_tune(const struct hbk_tune *tune,
                                 struct hbk_arena *arena,
                                 struct hbk_performed *performed,
                                 struct hbk_faults *faults)
{
    const struct hbk_notes *const notes = performed->view.notes;
    const struct hbk_notation *const notation = &notes->notation;
    const int by = performed->view.moved + notation->shift;
    performed->read = performed->tune;
    if (notes->setting.reads == HBK_READS_OWN) {
        return HBK_OK;
    }
    if (hbk_tune_transposed(tune, by, arena, &performed->read) != HBK_OK) {
        return tell_range(tune, by, faults);
    }
    struct hbk_tune_clef *const clef =
        HBK_ARENA_ARRAY(arena, struct hbk_tune_clef, 1);
    *clef = clef_read(notation->clef);
    performed->read.clefs = clef;
    performed->read.n_clefs = 1;
    performed->read.concert = false;
    performed->read.transpose =
        notes->written_c4_sounds - HBK_NOTE_C4 - notation->shift;
    return HBK_OK;
}

static enum hbk_status move_tune(const struct hbk_perform_ask *ask,
                                 const struct hbk_tune *tune,
                                 struct hbk_arena *arena,
                                 struct hbk_performed *performed,
                                 struct hbk_faults *faults)
{
    struct hbk_passage_view *const view = &performed->view;
    const bool from_sounding = ask->from_sounding || tune->concert;
    performed->tune = *tune;
    if (!from_sounding && tune->transpose == 0) {
        return HBK_OK;
    }
    view->moved =
        hbk_tune_shift_for(tune, view->notes->written_c4_sounds, from_sounding);
    if (view->moved == 0) {
        return HBK_OK;
    }
    return hbk_tune_transposed(tune, view->moved, arena, &performed->tune) ==
                   HBK_OK
               ? HBK_OK
               : tell_range(tune, view->moved, faults);
}

enum hbk_status
hbk_perform(const struct hbk_perform_ask *ask, const struct hbk_tune *tune,
            const struct hbk_notes *notes, struct hbk_arena *arena,
            struct hbk_performed *performed, struct hbk_faults *faults)
{
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    const size_t others = isnan(ask->choices) ? 1 : (size_t)ask->choices;
    *performed =
        (struct hbk_performed){.view = {.notes = notes,
                                        .keywork = &performed->keywork,
                                        .tune = &performed->read,
                                        .written = &performed->tune,
                                        .passage = &performed->passage,
                                        .quarters = ask->tempo,
                                        .end = tune->n_bars,
                                        .others = others,
                                        .other_ways = !isnan(ask->choices),
                                        .only_departures = ask->only_departures,
                                        .sounding = ask->sounding}};
    HBK_TRY(move_tune(ask, tune, arena, performed, faults));
    HBK_TRY(read_tune(tune, arena, performed, faults));
    hbk_keywork_make(notes->horn, &prices, &performed->keywork);
    const struct hbk_passage_request request = {
        .notes = notes,
        .keywork = &performed->keywork,
        .tune = &performed->tune,
        .read = &performed->read,
        .quarters = performed->view.quarters,
        .keep = ask->keep,
        .ways = others + 1,
    };
    const enum hbk_status status =
        hbk_passage_find(&request, arena, &performed->passage);
    if (status != HBK_OK) {
        hbk_fault_add(faults, (struct hbk_place){.file = tune->file},
                      HBK_H_PERFORMANCE_TOO_LONG,
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

static struct named name_event(const struct hbk_performed *performed,
                               size_t event)
{
    const struct hbk_tune *const tune = &performed->read;
    struct named named;
    (void)hbk_tune_where(tune, event, named.where);
    (void)hbk_spelling_said(tune->events[event].spelling,
                            performed->view.notes->notation.naming, HBK_UNICODE,
                            named.note);
    return named;
}

/* The first note out of reach in the bars shown from `from` on, or n_out. */
static size_t next_out(const struct hbk_performed *performed, size_t from)
{
    const struct hbk_passage *const passage = &performed->passage;
    size_t i = from;
    while (i < passage->n_out &&
           !hbk_passage_in_bars(&performed->view, passage->out[i])) {
        i++;
    }
    return i;
}

enum { BARS_TOLD_MAX = 12 };

/* Bars to be named, each once, in the order of the tune. */
struct bar_list {
    const struct hbk_tune *tune;
    size_t n, of[BARS_TOLD_MAX];
    size_t last;
};

static void bar_list_add(struct bar_list *list, size_t bar)
{
    if (list->n > 0 && list->last == bar) {
        return;
    }
    if (list->n < BARS_TOLD_MAX) {
        list->of[list->n] = bar;
    }
    list->n++;
    list->last = bar;
}

/* "bars 5, 9 and 11" */
static const char *bar_list_words(const struct bar_list *list,
                                  struct hbk_arena *arena)
{
    struct hbk_text text = {.arena = arena};
    const size_t told = list->n < BARS_TOLD_MAX ? list->n : BARS_TOLD_MAX;
    hbk_text_add(&text, list->n == 1 ? "bar" : "bars");
    for (size_t b = 0; b < told; b++) {
        const bool ends = b > 0 && b + 1 == list->n;
        hbk_text_addf(&text, "%s %.12s",
                      b == 0 ? ""
                      : ends ? " and"
                             : ",",
                      list->tune->bars[list->of[b]].number);
    }
    if (list->n > told) {
        hbk_text_addf(&text, " and %zu more", list->n - told);
    }
    return hbk_text_string(&text);
}

/* The bars of a note out of reach, or the place where it is the only one. */
static const char *places_of(const struct hbk_performed *performed, size_t i,
                             struct hbk_arena *arena)
{
    const struct hbk_tune *const tune = &performed->tune;
    const size_t *const out = performed->passage.out;
    struct bar_list bars = {.tune = tune};
    size_t times = 0;
    for (size_t k = i; k < performed->passage.n_out;
         k = next_out(performed, k + 1)) {
        const struct hbk_tune_event *const event = &tune->events[out[k]];
        if (event->note == tune->events[out[i]].note) {
            bar_list_add(&bars, event->bar);
            times++;
        }
    }
    if (times == 1) {
        char where[HBK_TUNE_WHERE_SIZE];
        return hbk_arena_printf(arena, "%s",
                                hbk_tune_where(tune, out[i], where));
    }
    return bar_list_words(&bars, arena);
}

/* The bars shown with notes that have this sign; none when n is 0. */
static struct bar_list bars_with(const struct hbk_performed *performed,
                                 unsigned sign, struct hbk_place *first)
{
    const struct hbk_tune *const tune = &performed->tune;
    struct bar_list bars = {.tune = tune};
    for (size_t e = 0; e < tune->n_events; e++) {
        const struct hbk_tune_event *const event = &tune->events[e];
        const bool is_trill = (event->articulation & HBK_TUNE_TRILL) != 0;
        if ((event->articulation & sign) != 0 &&
            (sign != HBK_TUNE_TRILL_SIGN || is_trill) &&
            hbk_passage_in_bars(&performed->view, e)) {
            *first = bars.n == 0 ? event->place : *first;
            bar_list_add(&bars, event->bar);
        }
    }
    return bars;
}

void hbk_perform_tell_ornaments(const struct hbk_performed *performed,
                                struct hbk_arena *arena,
                                struct hbk_faults *faults)
{
    struct hbk_place place = {.file = NULL};
    const struct bar_list ornaments =
        bars_with(performed, HBK_TUNE_ORNAMENT, &place);
    if (ornaments.n > 0) {
        hbk_fault_warn(faults, place, HBK_H_ORNAMENTS,
                       "%s: turns, mordents and rolls have notes of their own, "
                       "which are given no fingering; write them out as grace "
                       "notes to have it",
                       bar_list_words(&ornaments, arena));
    }
    const struct bar_list trills =
        bars_with(performed, HBK_TUNE_TRILL_SIGN, &place);
    if (trills.n > 0) {
        hbk_fault_warn(faults, place, HBK_H_TRILL_SIGN,
                       "%s: the accidental of the trill is not followed, the "
                       "trill goes to the next note of the key; for another "
                       "see the trills of the horn's chart",
                       bar_list_words(&trills, arena));
    }
}

/* Whether the horn has every note of the part moved by these semitones. */
static bool fits(const struct hbk_performed *performed, int semitones)
{
    const struct hbk_tune *const tune = &performed->tune;
    for (size_t e = 0; e < tune->n_events; e++) {
        if (tune->events[e].kind == HBK_TUNE_REST) {
            continue;
        }
        const struct hbk_note *const note = hbk_notes_find(
            performed->view.notes, tune->events[e].note + semitones);
        if (note == NULL || note->n == 0) {
            return false;
        }
    }
    return true;
}

void hbk_perform_tell_out(const struct hbk_performed *performed,
                          struct hbk_arena *arena, struct hbk_faults *faults)
{
    const struct hbk_tune *const tune = &performed->tune;
    bool told[HBK_NOTE_MAX + 1] = {false};
    bool any = false;
    for (size_t i = next_out(performed, 0); i < performed->passage.n_out;
         i = next_out(performed, i + 1)) {
        const size_t e = performed->passage.out[i];
        if (told[tune->events[e].note]) {
            continue;
        }
        told[tune->events[e].note] = true;
        hbk_fault_add(faults, tune->events[e].place, HBK_H_OUT_OF_REACH,
                      "%s: %s is not available on this horn",
                      places_of(performed, i, arena),
                      name_event(performed, e).note);
        any = true;
    }
    const bool lower = any && fits(performed, -12);
    if (lower || (any && fits(performed, 12))) {
        hbk_fault_warn(faults, (struct hbk_place){.file = tune->file},
                       HBK_H_OCTAVE_FITS,
                       "an octave %s, this horn has every note of the part",
                       lower ? "lower" : "higher");
    }
}

const char *hbk_perform_first_out(const struct hbk_performed *performed,
                                  struct hbk_arena *arena)
{
    const struct named named =
        name_event(performed, performed->passage.out[next_out(performed, 0)]);
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
        if (!hbk_passage_in_bars(&performed->view, note->event)) {
            continue;
        }
        const struct named named = name_event(performed, note->event);
        if (note->kept == HBK_PASSAGE_UNKNOWN) {
            hbk_fault_warn(faults, event->place, HBK_H_KEPT_UNKNOWN,
                           "%s: '%.40s' is no fingering of this horn; another "
                           "is chosen for %s",
                           named.where, event->fingering, named.note);
        } else if (note->kept == HBK_PASSAGE_UNPLAYABLE) {
            hbk_fault_warn(faults, event->place, HBK_H_KEPT_UNPLAYABLE,
                           "%s: this horn does not play %s with '%.40s'; "
                           "another is chosen",
                           named.where, named.note, event->fingering);
        }
    }
}
