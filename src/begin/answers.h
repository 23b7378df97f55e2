#ifndef HBK_BEGIN_ANSWERS_H
#define HBK_BEGIN_ANSWERS_H

#include "base/arena.h"
#include "begin/horn_kind.h"
#include "horn/control.h"

#include <stdbool.h>
#include <stdint.h>

struct hbk_pattern;

/*
 * What a player said of a horn, by options or asked one thing at a time. Both
 * say it in the same words, read here.
 */

/* In the order they are asked: what comes later may depend on it. */
enum hbk_question {
    HBK_ASK_KIND,
    HBK_ASK_KEY,    /* what it is in */
    HBK_ASK_CLEF,   /* written notes, such as names of keys, go by it */
    HBK_ASK_KEYS,   /* how many */
    HBK_ASK_VALVES, /* how many */
    HBK_ASK_OPEN,   /* which keys are open at rest */
    HBK_ASK_CALLED, /* what the keys are called */
    HBK_ASK_LOWERS, /* what each valve does */
    HBK_ASK_ACTION, /* how the valves are made */
    HBK_ASK_LOOPS,  /* of the valves, measured */
    HBK_ASK_A4,
    HBK_ASK_LENGTH, /* half wave, where it is known */
    HBK_ASK_TEMPERATURE,
    HBK_ASK_NAME,
    HBK_ASK_COUNT
};

enum { HBK_BEGIN_KEYS_MAX = 16, HBK_BEGIN_VALVES_MAX = 6 };
enum { HBK_BEGIN_NAME_MAX = 120, HBK_BEGIN_CALLED_MAX = 12 };
enum { HBK_BEGIN_SEMITONES_MAX = 9 };

/*
 * Zero-initialise but for the arena. A field is valid where `given` says so;
 * `kind` is NULL until it is.
 */
struct hbk_answers {
    struct hbk_arena *arena;           /* borrowed; owns every text */
    const struct hbk_pattern *pattern; /* to begin from; NULL: the nearest */
    bool given[HBK_ASK_COUNT];
    const struct hbk_horn_kind *kind;
    int sounds; /* what C sounds, read as C4 in a treble clef */
    size_t n_keys, n_valves;
    uint32_t open; /* bit i: key i + 1, from the bell */
    const char *called[HBK_BEGIN_KEYS_MAX];
    int lowers[HBK_BEGIN_VALVES_MAX]; /* semitones; negative raises */
    double loops_mm[HBK_BEGIN_VALVES_MAX];
    enum hbk_action action;
    enum hbk_clef clef;
    double a4_hz;
    double length_mm;
    double temperature_c;
    const char *name;
};

enum { HBK_HINT_SIZE = 240 };

/*
 * Reads one answer. `n_keys` and `n_valves` are those the horn has as far as
 * it is known; a list of other length is refused, but a list given before the
 * count says the count.
 *
 * Returns true and sets the field; or false, with what would be right in
 * `hint` (a sentence without its full stop) and `answers` untouched.
 */
bool hbk_answer(struct hbk_answers *answers, enum hbk_question question,
                const char *text, char hint[HBK_HINT_SIZE]);

/*
 * The note nearest to `near` with a key's name, "Bb", "B flat", "b-flat" or
 * "B♭", with an octave that one; false for anything else.
 */
bool hbk_key_parse(const char *text, int near, int *sounds);

#endif
