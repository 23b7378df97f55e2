#include "tune/abc/abc_voice.h"

#include "base/messages.h"

bool hbk_abc_add(struct hbk_abc *abc, struct hbk_tune_event event)
{
    struct hbk_abc_voiced *const voiced = &abc->voiced;
    const size_t n = abc->build.tune->n_events;
    if (!hbk_build_add(&abc->build, event)) {
        return false;
    }
    HBK_ARENA_GROW(abc->build.arena, voiced->items, n, voiced->room);
    voiced->items[n] = (struct hbk_abc_place_of){.layer = voiced->layer};
    return true;
}

size_t hbk_abc_tied(const struct hbk_abc *abc, size_t after)
{
    const struct hbk_tune *const tune = abc->build.tune;
    size_t i = after == HBK_TUNE_NONE ? abc->music.last : after + 1;
    if (abc->music.last == HBK_TUNE_NONE || abc->music.in_grace) {
        return HBK_TUNE_NONE;
    }
    for (; i < tune->n_events &&
           (i == abc->music.last || abc->voiced.items[i].in_chord);
         i++) {
        if (tune->events[i].tie_start) {
            return i;
        }
    }
    return HBK_TUNE_NONE;
}

void hbk_abc_chord_note(struct hbk_abc *abc, struct hbk_tune_event event,
                        struct hbk_ratio factor)
{
    enum { NOTES_MAX = 64 };
    struct hbk_abc_chord *const chord = &abc->chord;
    if (chord->n == NOTES_MAX) {
        hbk_build_error(&abc->build, event.place, HBK_H_TUNE_TOO_LARGE,
                        "this chord has more than %d notes", NOTES_MAX);
        return;
    }
    event.slur_starts = abc->music.slur_starts;
    abc->music.slur_starts = 0;
    HBK_ARENA_GROW(abc->build.arena, chord->notes, chord->n, chord->room);
    chord->notes[chord->n] = event;
    if (chord->n == 0) {
        chord->factor = factor; /* the first note says how long it is */
    }
    chord->n++;
}

void hbk_abc_first_layer(struct hbk_abc *abc)
{
    struct hbk_abc_voiced *const voiced = &abc->voiced;
    voiced->last[voiced->layer] = abc->music.last;
    for (size_t k = 0; k < HBK_LINE_VOICES_MAX; k++) {
        voiced->before[k] =
            k <= voiced->layers ? voiced->last[k] : voiced->last[0];
    }
    abc->music.last = voiced->before[0];
    voiced->layer = 0;
    voiced->layers = 0;
}
