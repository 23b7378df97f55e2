#include "tune/abc/abc_chord.h"

#include "base/messages.h"
#include "tune/abc/abc_bar.h"
#include "tune/abc/abc_mark.h"
#include "tune/abc/abc_note.h"
#include "tune/abc/abc_voice.h"

#include <string.h>

/* ---- chords ---- */

void hbk_abc_chord_begin(struct hbk_abc *abc)
{
    struct hbk_abc_music *const music = &abc->music;
    struct hbk_abc_chord *const chord = &abc->chord;
    const size_t room = abc->line.end - abc->at;
    const char *const from = abc->source.bytes + abc->at;
    if (chord->is_open || memchr(from, ']', room) == NULL) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, abc->at),
                        HBK_H_UNCLOSED,
                        "the chord that begins here is not closed on its line");
        return;
    }
    hbk_abc_need_bar(abc);
    chord->is_open = true;
    chord->n = 0;
    chord->at = abc->at;
    chord->offset = music->point == HBK_TUNE_NONE ? abc->at : music->point;
    chord->is_joined = music->is_joined;
    chord->slur_starts = music->slur_starts;
    music->slur_starts = 0;
    abc->at++;
}

static unsigned more(unsigned a, unsigned b)
{
    return a > b ? a : b;
}

/* The first note carries what belongs to the whole chord. */
static struct hbk_tune_event first_note(struct hbk_abc *abc)
{
    const struct hbk_abc_chord *const chord = &abc->chord;
    struct hbk_tune_event first = chord->notes[0];
    first.slur_stops = 0;
    first.slur_starts = 0;
    for (size_t i = 0; i < chord->n; i++) {
        first.slur_stops = more(first.slur_stops, chord->notes[i].slur_stops);
        first.slur_starts =
            more(first.slur_starts, chord->notes[i].slur_starts);
    }
    first.slur_starts += chord->slur_starts;
    first.offset = chord->offset;
    first.place = hbk_abc_place(abc, chord->at);
    return first;
}

static void add_chord(struct hbk_abc *abc, struct hbk_ratio outer)
{
    struct hbk_abc_chord *const chord = &abc->chord;
    struct hbk_abc_music *const music = &abc->music;
    struct hbk_tune_event first = first_note(abc);
    struct hbk_ratio factor;
    if (!hbk_ratio_mul(chord->factor, outer, &factor)) {
        factor = chord->factor;
    }
    if (music->in_grace) {
        first.slash = music->grace_slash;
        (void)hbk_abc_add(abc, first);
    } else {
        music->slur_starts = first.slur_starts;
        music->is_joined = chord->is_joined;
        hbk_abc_add_timed(abc, &first, factor);
    }
    for (size_t i = 1; i < chord->n && !abc->build.failed; i++) {
        const size_t n = abc->build.tune->n_events;
        struct hbk_tune_event note = chord->notes[i];
        note.slur_starts = 0;
        note.slur_stops = 0;
        note.slash = first.slash;
        if (hbk_abc_add(abc, note)) {
            abc->voiced.items[n].in_chord = true;
            abc->voiced.is_divided = true;
        }
    }
}

void hbk_abc_chord_end(struct hbk_abc *abc)
{
    struct hbk_abc_chord *const chord = &abc->chord;
    struct hbk_ratio outer = hbk_ratio_whole(1);
    chord->is_open = false;
    abc->at++;
    if (!hbk_abc_length(abc, &outer)) {
        return;
    }
    if (chord->n == 0) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, chord->at),
                       HBK_H_STRAY_SIGN,
                       "there is no note between these brackets; they are "
                       "passed over");
        abc->music.slur_starts += chord->slur_starts;
        return;
    }
    add_chord(abc, outer);
}

/* ---- overlays ---- */

void hbk_abc_overlay(struct hbk_abc *abc)
{
    struct hbk_abc_voiced *const voiced = &abc->voiced;
    struct hbk_abc_music *const music = &abc->music;
    hbk_abc_need_bar(abc);
    if (abc->at > abc->line.begin && abc->source.bytes[abc->at - 1] == '(') {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->at - 1),
                       HBK_H_ABC_LONG_OVERLAY,
                       "(& begins an overlay of several bars, which ABC 2.1 "
                       "does not have; it is read bar by bar, write one & in "
                       "each bar");
    }
    hbk_abc_marks_to_bar_line(abc);
    voiced->last[voiced->layer] = music->last;
    if (voiced->layer + 1 < HBK_LINE_VOICES_MAX) {
        voiced->layer++;
    }
    voiced->layers = voiced->layer;
    voiced->is_divided = true;
    music->last = voiced->before[voiced->layer];
    music->broken = 0;
    music->tuplet_left = 0;
    music->is_joined = false;
    music->is_adjacent = false;
    hbk_abc_forget_accidentals(abc);
    abc->at++;
}
