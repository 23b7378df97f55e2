#include "edition/perform.h"

#include "base/messages.h"
#include "edition/place.h"
#include "passage/find.h"
#include "report/passage_moved.h"
#include "solve/fingering_prices.h"
#include "tune/melody/ornament.h"
#include "tune/melody/transpose.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { OCTAVE = 12 };

struct hbk_perform_ask hbk_perform_ask_none(void)
{
    return (struct hbk_perform_ask){.tempo = (double)NAN,
                                    .choices = (double)NAN};
}

bool hbk_perform_ask_move(struct hbk_perform_ask *ask,
                          const struct hbk_move_words *words,
                          struct hbk_text *why)
{
    const struct {
        const char *name, *word, *takes;
        bool (*read)(const char *word, struct hbk_moving *moving);
    } asked[] = {
        {"octave", words->octave, hbk_moving_takes_octave, hbk_moving_octave},
        {"transpose", words->transpose, hbk_moving_takes_interval,
         hbk_moving_interval},
        {"to-key", words->to_key, hbk_moving_takes_key, hbk_moving_key}};
    for (size_t i = 0; i < sizeof(asked) / sizeof(asked[0]); i++) {
        if (asked[i].word != NULL &&
            !asked[i].read(asked[i].word, &ask->moving)) {
            hbk_text_addf(why, "%s %s, not '%s'", asked[i].name, asked[i].takes,
                          asked[i].word);
            return false;
        }
    }
    if (words->transpose != NULL && words->to_key != NULL) {
        hbk_text_add(why, "transpose and --to-key both say where the part "
                          "goes; leave one out");
        return false;
    }
    return true;
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

/* Whether the music keeps to one clef, and to that. */
static bool is_in_clef(const struct hbk_tune *tune, enum hbk_clef clef)
{
    const struct hbk_tune_clef wanted = hbk_tune_clef_of(clef);
    for (size_t i = 0; i < tune->n_clefs; i++) {
        const struct hbk_tune_clef *const has = &tune->clefs[i];
        if (has->sign != wanted.sign || has->line != wanted.line ||
            has->octave != 0) {
            return false;
        }
    }
    return true;
}

/* In one clef throughout, that of whoever reads it. */
static void set_clef(struct hbk_tune *tune, enum hbk_clef clef,
                     struct hbk_arena *arena)
{
    if (!is_in_clef(tune, clef)) {
        struct hbk_tune_clef *const only =
            HBK_ARENA_ARRAY(arena, struct hbk_tune_clef, 1);
        *only = hbk_tune_clef_of(clef);
        tune->clefs = only;
        tune->n_clefs = 1;
    }
}

/* The tune of the file for whoever reads it. */
static enum hbk_status read_tune(const struct hbk_tune *tune,
                                 struct hbk_arena *arena,
                                 struct hbk_performed *performed,
                                 struct hbk_faults *faults)
{
    const struct hbk_notes *const notes = performed->view.notes;
    const struct hbk_placing *const placing = &performed->view.placing;
    const struct hbk_notation *const notation = &notes->notation;
    const bool is_own = notes->setting.reads == HBK_READS_OWN;
    performed->read = performed->tune;
    if (!is_own) {
        if (hbk_tune_moved(tune, &placing->read, arena, &performed->read) !=
            HBK_OK) {
            return tell_range(tune, placing->read.semitones, faults);
        }
        performed->read.concert = false;
        performed->read.transpose =
            notes->written_c4_sounds - HBK_NOTE_C4 - notation->shift;
    }
    set_clef(&performed->read, notation->clef, arena);
    return HBK_OK;
}

/*
 * The tune as the horn is written. Where it is asked for elsewhere than it
 * says, its transposition stays that of the horn.
 */
static enum hbk_status move_tune(const struct hbk_tune *tune,
                                 struct hbk_arena *arena,
                                 struct hbk_performed *performed,
                                 struct hbk_faults *faults)
{
    const struct hbk_passage_view *const view = &performed->view;
    const struct hbk_placing *const placing = &view->placing;
    const bool is_own = view->notes->notation.shift == 0;
    const struct hbk_tune_move plain = {.semitones =
                                            hbk_placing_moved(placing)};
    const struct hbk_tune_move *const move = is_own ? &placing->read : &plain;
    performed->tune = *tune;
    if (move->semitones == 0 && !placing->rekeyed) {
        return HBK_OK;
    }
    if (hbk_tune_moved(tune, move, arena, &performed->tune) != HBK_OK) {
        return tell_range(tune, plain.semitones, faults);
    }
    performed->tune.transpose += hbk_placing_asked(placing);
    return HBK_OK;
}

/* What ends a search: a tune that is too long as it is played, told once. */
static enum hbk_status tell_long(enum hbk_status status,
                                 const struct hbk_tune *tune,
                                 struct hbk_faults *faults)
{
    if (status == HBK_ERR_DOMAIN) {
        hbk_fault_add(faults, hbk_whole_file(tune->file),
                      HBK_H_PERFORMANCE_TOO_LONG,
                      "with its repeats the tune has more than %d notes and "
                      "rests; give it fewer repeats, or take a part of it",
                      HBK_PASSAGE_PLAYED_MAX);
    }
    return status;
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
    hbk_keywork_make(notes->horn, &prices, &performed->keywork);
    HBK_TRY(tell_long(hbk_place(ask, tune, notes, &performed->keywork,
                                &performed->view.placing, faults),
                      tune, faults));
    HBK_TRY(move_tune(tune, arena, performed, faults));
    HBK_TRY(read_tune(tune, arena, performed, faults));
    const struct hbk_passage_request request = {
        .notes = notes,
        .keywork = &performed->keywork,
        .tune = &performed->tune,
        .read = &performed->read,
        .quarters = performed->view.quarters,
        .keep = ask->keep,
        .ways = others + 1,
    };
    return tell_long(hbk_passage_find(&request, arena, &performed->passage),
                     tune, faults);
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

/* Whether the accidental of a trill takes it further than a tone. */
static bool is_far_trill(const struct hbk_tune *tune, size_t e)
{
    const unsigned has = tune->events[e].articulation;
    const int interval = hbk_tune_other_interval(tune, e);
    return (has & HBK_TUNE_TRILL) != 0 && (has & HBK_TUNE_TRILL_SIGN) != 0 &&
           (interval < 1 || interval > 2);
}

/*
 * The bars shown with notes that have one of these signs, of accidentals those
 * that are not followed; none when n is 0.
 */
static struct bar_list bars_with(const struct hbk_performed *performed,
                                 unsigned sign, struct hbk_place *first)
{
    const struct hbk_tune *const tune = &performed->tune;
    struct bar_list bars = {.tune = tune};
    for (size_t e = 0; e < tune->n_events; e++) {
        const struct hbk_tune_event *const event = &tune->events[e];
        if ((event->articulation & sign) != 0 &&
            (sign != HBK_TUNE_TRILL_SIGN || is_far_trill(tune, e)) &&
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
                       "%s: the accidental of the trill makes it other than a "
                       "semitone or a tone; it is fingered as the nearer of "
                       "the two",
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

int hbk_perform_fitting(const struct hbk_performed *performed)
{
    const int stands = performed->view.placing.octaves;
    for (int away = 1; away <= 2 * HBK_OCTAVES_MOST; away++) {
        for (int by = -away; by <= away; by += 2 * away) {
            if (abs(stands + by) <= HBK_OCTAVES_MOST &&
                fits(performed, OCTAVE * by)) {
                return by;
            }
        }
    }
    return 0;
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
    const int octaves = any ? hbk_perform_fitting(performed) : 0;
    if (octaves != 0) {
        hbk_fault_warn(faults, hbk_whole_file(tune->file), HBK_H_OCTAVE_FITS,
                       "%s, this horn has every note of the part; --octave %d "
                       "moves it there",
                       hbk_octaves_words(octaves, arena),
                       performed->view.placing.octaves + octaves);
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
