#include "tune/melody/transpose.h"

#include "tune/melody/tune.h"

#include <stdlib.h>
#include <string.h>

/*
 * Notes are moved along the line of fifths (... Bb F C G D ...; C is 0), on
 * which an interval is one number whatever note it starts from. A semitone
 * up is 7 places up or 5 down.
 */

static int whole_part(int a, int b)
{
    return (a - (((a % b) + b) % b)) / b;
}

static int rest_of(int a, int b)
{
    return ((a % b) + b) % b;
}

static int fifths_of(int step, int alter)
{
    static const int naturals[7] = {0, 2, 4, -1, 1, 3, 5};
    return naturals[step] + (7 * alter);
}

static int step_of(int fifths)
{
    return rest_of(4 * fifths, 7);
}

static int alter_of(int fifths)
{
    return whole_part(fifths + 1, 7);
}

/* The spelling of a note number whose place on the line of fifths is known. */
static struct hbk_spelling spell(int note, int fifths)
{
    struct hbk_spelling spelling = {
        .step = step_of(fifths), .alter = alter_of(fifths), .octave = 0};
    spelling.octave = whole_part(note - hbk_spelling_note(spelling), 12);
    return spelling;
}

static struct hbk_spelling moved(struct hbk_spelling from, int semitones,
                                 int fifths)
{
    int to = fifths_of(from.step, from.alter) + fifths;
    const int usual = abs(from.alter) < 2 ? 1 : 2;
    if (alter_of(to) > usual) {
        to -= 12;
    } else if (alter_of(to) < -usual) {
        to += 12;
    }
    return spell(hbk_spelling_note(from) + semitones, to);
}

/* How far a signature moves: to the fewest signs, flats where equal. */
static int shift_of_key(int fifths, int semitones)
{
    const int plain = rest_of(7 * semitones, 12);
    int best = plain;
    for (int shift = plain - 24; shift <= plain + 12; shift += 12) {
        if (abs(fifths + shift) < abs(fifths + best) ||
            (abs(fifths + shift) == abs(fifths + best) && shift < best)) {
            best = shift;
        }
    }
    return best;
}

static struct hbk_tune_key moved_key(struct hbk_tune_key key, int shift)
{
    struct hbk_tune_key to = key;
    to.fifths = key.fifths + shift;
    for (int step = 0; step < 7; step++) {
        const int fifths = fifths_of(step, key.alter[step]) + shift;
        const int alter = alter_of(fifths);
        to.alter[step_of(fifths)] = alter > 2 ? 2 : alter < -2 ? -2 : alter;
    }
    return to;
}

int hbk_tune_shift_for(const struct hbk_tune *tune, int written_c4_sounds,
                       bool from_sounding)
{
    const int meant = from_sounding ? 0 : tune->transpose;
    return meant - (written_c4_sounds - HBK_NOTE_C4);
}

enum hbk_status hbk_tune_transposed(const struct hbk_tune *tune, int semitones,
                                    struct hbk_arena *arena,
                                    struct hbk_tune *out)
{
    for (size_t i = 0; i < tune->n_events; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        const int note = event->note + semitones;
        if (event->kind != HBK_TUNE_REST && (note < 0 || note > HBK_NOTE_MAX)) {
            return HBK_ERR_DOMAIN;
        }
    }
    struct hbk_tune copy = *tune;
    copy.transpose = tune->transpose - semitones;
    copy.keys = HBK_ARENA_ARRAY(arena, struct hbk_tune_key, tune->n_keys);
    for (size_t k = 0; k < tune->n_keys; k++) {
        copy.keys[k] = moved_key(tune->keys[k],
                                 shift_of_key(tune->keys[k].fifths, semitones));
    }
    copy.events = HBK_ARENA_ARRAY(arena, struct hbk_tune_event, tune->n_events);
    memcpy(copy.events, tune->events, tune->n_events * sizeof(copy.events[0]));
    for (size_t i = 0; i < tune->n_events; i++) {
        struct hbk_tune_event *const event = &copy.events[i];
        if (event->kind == HBK_TUNE_REST) {
            continue;
        }
        const int fifths = hbk_tune_key_at(tune, i)->fifths;
        event->spelling =
            moved(event->spelling, semitones, shift_of_key(fifths, semitones));
        event->note += semitones;
    }
    *out = copy;
    return HBK_OK;
}
