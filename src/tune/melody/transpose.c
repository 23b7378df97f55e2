#include "tune/melody/transpose.h"

#include "music/fifths.h"
#include "tune/melody/ornament.h"
#include "tune/melody/tune.h"

#include <stdlib.h>
#include <string.h>

/*
 * Notes are moved along the line of fifths (music/fifths.h), on which an
 * interval is one number whatever note it starts from.
 */

enum { OCTAVE = 12, SEMITONE = 7, SIGNS_MOST = 7, SIGNS_LIKED = 6 };

/* The spelling of a note number whose place on the line of fifths is known. */
static struct hbk_spelling spell(int note, int fifths)
{
    struct hbk_spelling spelling = {.step = hbk_fifths_step(fifths),
                                    .alter = hbk_fifths_alter(fifths),
                                    .octave = 0};
    spelling.octave =
        hbk_whole_part(note - hbk_spelling_note(spelling), OCTAVE);
    return spelling;
}

static struct hbk_spelling moved(struct hbk_spelling from, int semitones,
                                 int fifths)
{
    int to = hbk_fifths_of(from.step, from.alter) + fifths;
    const int usual = abs(from.alter) < 2 ? 1 : 2;
    if (hbk_fifths_alter(to) > usual) {
        to -= OCTAVE;
    } else if (hbk_fifths_alter(to) < -usual) {
        to += OCTAVE;
    }
    return spell(hbk_spelling_note(from) + semitones, to);
}

/* Of two that are equal: the nearer to what is leant to, else the flats. */
static bool is_rather(const struct hbk_tune_move *move, int shift, int than)
{
    const int to = abs(shift - move->fifths) - abs(than - move->fifths);
    return move->spelling == HBK_MOVE_PLAINLY || to == 0 ? shift < than
                                                         : to < 0;
}

/* How far a signature moves; an octave leaves it as it is. */
static int shift_of_key(const struct hbk_tune_move *move, int fifths)
{
    const int plain = hbk_rest_of(SEMITONE * move->semitones, OCTAVE);
    int best = plain;
    if (move->spelling == HBK_MOVE_SPELLED &&
        abs(fifths + move->fifths) <= SIGNS_LIKED) {
        return move->fifths;
    }
    if (plain == 0 && abs(fifths) <= SIGNS_MOST) {
        return 0;
    }
    for (int shift = plain - (2 * OCTAVE); shift <= plain + OCTAVE;
         shift += OCTAVE) {
        const int signs = abs(fifths + shift) - abs(fifths + best);
        if (signs < 0 || (signs == 0 && is_rather(move, shift, best))) {
            best = shift;
        }
    }
    return best;
}

/* The first key goes where it is sent, however many signs it has there. */
static int shift_at(const struct hbk_tune_move *move,
                    const struct hbk_tune *tune, const struct hbk_tune_key *key)
{
    return key == &tune->keys[0] && move->spelling == HBK_MOVE_SPELLED
               ? move->fifths
               : shift_of_key(move, key->fifths);
}

static struct hbk_tune_key moved_key(struct hbk_tune_key key, int shift)
{
    struct hbk_tune_key to = key;
    to.fifths = key.fifths + shift;
    for (int step = 0; step < 7; step++) {
        const int fifths = hbk_fifths_of(step, key.alter[step]) + shift;
        const int alter = hbk_fifths_alter(fifths);
        to.alter[hbk_fifths_step(fifths)] = alter > 2    ? 2
                                            : alter < -2 ? -2
                                                         : alter;
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
    const struct hbk_tune_move move = {.semitones = semitones};
    return hbk_tune_moved(tune, &move, arena, out);
}

enum hbk_status hbk_tune_moved(const struct hbk_tune *tune,
                               const struct hbk_tune_move *move,
                               struct hbk_arena *arena, struct hbk_tune *out)
{
    const int semitones = move->semitones;
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
        copy.keys[k] =
            moved_key(tune->keys[k], shift_at(move, tune, &tune->keys[k]));
    }
    copy.events = HBK_ARENA_ARRAY(arena, struct hbk_tune_event, tune->n_events);
    memcpy(copy.events, tune->events, tune->n_events * sizeof(copy.events[0]));
    for (size_t i = 0; i < tune->n_events; i++) {
        struct hbk_tune_event *const event = &copy.events[i];
        if (event->kind == HBK_TUNE_REST) {
            continue;
        }
        const int shift = shift_at(move, tune, hbk_tune_key_at(tune, i));
        event->spelling = moved(event->spelling, semitones, shift);
        event->note += semitones;
        event->articulation = hbk_tune_moved_signs(tune, &copy, i);
    }
    *out = copy;
    return HBK_OK;
}

struct hbk_tune_key hbk_tune_key_moved(const struct hbk_tune *tune,
                                       const struct hbk_tune_move *move)
{
    return moved_key(tune->keys[0], shift_at(move, tune, &tune->keys[0]));
}

struct hbk_spelling hbk_tune_tonic(const struct hbk_tune_key *key)
{
    static const struct {
        const char *mode;
        int above; /* the tonic of major with that signature, in fifths */
    } modes[] = {{"minor", 3},    {"aeolian", 3}, {"dorian", 2},
                 {"phrygian", 4}, {"lydian", -1}, {"mixolydian", 1},
                 {"locrian", 5}};
    int fifths = key->fifths;
    for (size_t i = 0; i < sizeof(modes) / sizeof(modes[0]); i++) {
        fifths += strcmp(key->mode, modes[i].mode) == 0 ? modes[i].above : 0;
    }
    return (struct hbk_spelling){.step = hbk_fifths_step(fifths),
                                 .alter = hbk_fifths_alter(fifths),
                                 .octave = 4};
}
