#include "edition/heard.h"

#include "base/messages.h"
#include "passage/timing.h"
#include "sound/wave.h"

#include <math.h>

/* A passage while it is turned into tones. */
struct hearing {
    const struct hbk_performed *performed;
    struct hbk_timing timing;
    const struct hbk_tune_performance *played;
    size_t n, room;
    struct hbk_tone *tones;
    struct hbk_arena *arena;
};

static bool is_shown(const struct hearing *hearing, size_t event)
{
    return hbk_passage_in_bars(&hearing->performed->view, event);
}

/* A grace note that a cut leaves no room for takes from the tone before. */
static void add_tone(struct hearing *hearing, struct hbk_tone tone)
{
    if (hearing->n > 0) {
        struct hbk_tone *const last = &hearing->tones[hearing->n - 1];
        const double late_s =
            fmax(last->start_s + last->length_s - tone.start_s, 0.0);
        if (late_s < last->length_s) {
            last->length_s -= late_s;
        } else {
            tone.start_s += late_s;
            tone.length_s -= late_s;
        }
    }
    if (tone.length_s > 0.0) {
        HBK_ARENA_GROW(hearing->arena, hearing->tones, hearing->n,
                       hearing->room);
        hearing->tones[hearing->n++] = tone;
    }
}

/* What of a note sounds, of the time until the next one begins. */
static double sounding_s(unsigned articulation, double length_s, bool slurred)
{
    if ((articulation & HBK_TUNE_STACCATISSIMO) != 0) {
        return length_s / 3.0;
    }
    if ((articulation & HBK_TUNE_STACCATO) != 0) {
        return length_s / 2.0;
    }
    return slurred ? length_s
                   : length_s - fmin(HBK_HEARD_TONGUE_S, length_s / 5.0);
}

/* To and fro as often as a trill goes in that time; it ends as it began. */
static void add_trill(struct hearing *hearing, struct hbk_tone tone,
                      const struct hbk_trill *trill)
{
    const double pairs = floor(tone.length_s / (2.0 * HBK_TRILL_S));
    const size_t n = 1 + (2 * (size_t)fmax(pairs, 1.0));
    const double each_s = tone.length_s / (double)n;
    for (size_t i = 0; i < n; i++) {
        add_tone(hearing,
                 (struct hbk_tone){
                     .start_s = tone.start_s + ((double)i * each_s),
                     .length_s = each_s,
                     .hz = i % 2 == 0 ? trill->main->hz : trill->upper->hz,
                     .slurred = i > 0 || tone.slurred});
    }
}

/* Note `i` of those that sound; `moved_s` is where the cuts have put it. */
static void add_note(struct hearing *hearing, size_t i, double moved_s,
                     bool slurred)
{
    const struct hbk_performed *const performed = hearing->performed;
    const struct hbk_timing *const timing = &hearing->timing;
    const struct hbk_sounded *const sounded = &timing->sounded[i];
    const bool has_next = i + 1 < timing->n_sounded;
    const bool slurred_on = has_next && timing->junctions[i].slurred &&
                            is_shown(hearing, timing->sounded[i + 1].event);
    /* Grace notes of the next one take from it. */
    const double until_s =
        has_next ? fmin(sounded->length_s,
                        timing->sounded[i + 1].start_s - sounded->start_s)
                 : sounded->length_s;
    const struct hbk_passage_note *const note =
        &performed->passage.notes[performed->passage.note_of[sounded->event]];
    const struct hbk_tone tone = {
        .start_s = sounded->start_s + moved_s,
        .length_s =
            sounding_s(performed->tune.events[sounded->event].articulation,
                       until_s, slurred_on),
        .hz = note->candidates->of[note->taken]->hz,
        .slurred = slurred};
    if (note->trill.kind != HBK_TRILL_NONE) {
        add_trill(hearing, tone, &note->trill);
    } else {
        add_tone(hearing, tone);
    }
}

/*
 * All tones; returns how long the whole lasts. Time in bars that are not shown
 * is cut out.
 */
static double add_notes(struct hearing *hearing)
{
    const struct hbk_tune_performance *const played = hearing->played;
    const struct hbk_timing *const timing = &hearing->timing;
    double moved_s = 0.0;
    double end_s = 0.0;
    bool slurred = false;
    size_t next = 0; /* of those that sound */
    for (size_t i = 0; i < played->n; i++) {
        const struct hbk_tune_played *const item = &played->items[i];
        const bool shown = is_shown(hearing, item->event);
        const bool sounds = next < timing->n_sounded &&
                            timing->sounded[next].event == item->event;
        if (shown && sounds) {
            if (hearing->n == 0) {
                /* Grace notes may begin before the tune. */
                moved_s = fmax(moved_s, -timing->sounded[next].start_s);
            }
            add_note(hearing, next, moved_s, slurred);
        }
        slurred = shown && sounds && next < timing->n_junctions &&
                  timing->junctions[next].slurred;
        next += sounds ? 1 : 0;
        if (shown) {
            end_s = item->onset_s + item->length_s + moved_s;
        } else {
            moved_s -= item->length_s;
        }
    }
    return end_s;
}

/* As what the open tube sounds; the horn's middle where it is mute. */
static double open_hz_of(const struct hbk_notes *notes)
{
    /* At 20 degrees (acoustics/SOURCES.md): for how bright it is, no pitch. */
    const double sound_m_s = 343.0;
    const double half_wave_m =
        isnan(notes->open_m) ? notes->rest_m : notes->open_m;
    return sound_m_s / (2.0 * half_wave_m);
}

enum hbk_status hbk_heard(const struct hbk_performed *performed,
                          struct hbk_arena *arena, char **bytes, size_t *length,
                          struct hbk_faults *faults)
{
    const struct hbk_tune *const tune = &performed->tune;
    struct hbk_tune_performance played;
    HBK_TRY(hbk_tune_unfold(tune, performed->view.quarters, arena, &played));
    bool *const sounds = HBK_ARENA_ARRAY(arena, bool, tune->n_events + 1);
    for (size_t e = 0; e < tune->n_events; e++) {
        sounds[e] = performed->passage.note_of[e] != HBK_TUNE_NONE;
    }
    struct hearing hearing = {.performed = performed,
                              .timing = hbk_timing_of(tune, &played,
                                                      performed->view.quarters,
                                                      sounds, arena),
                              .played = &played,
                              .arena = arena};
    const double length_s = add_notes(&hearing);
    if (length_s > HBK_HEARD_MOST_S) {
        hbk_fault_add(faults, (struct hbk_place){.file = tune->file},
                      HBK_H_SOUND_TOO_LONG,
                      "it would sound for %.0f minutes, and a file holds %.0f; "
                      "choose some of its bars, or a quicker tempo",
                      ceil(length_s / 60.0), HBK_HEARD_MOST_S / 60.0);
        return HBK_ERR_INPUT;
    }
    const struct hbk_sound sound =
        hbk_sound_of(hearing.tones, hearing.n, length_s,
                     open_hz_of(performed->view.notes), arena);
    *bytes = hbk_wave_bytes(&sound, arena, length);
    return HBK_OK;
}
