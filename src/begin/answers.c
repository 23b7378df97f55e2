#include "begin/answers.h"

#include "base/number.h"
#include "base/text.h"
#include "horn/called.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "reader/limits.h"
#include "reader/shown.h"

#include <ctype.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

enum { LIST_MAX = HBK_BEGIN_KEYS_MAX };

/* One answer while it is read. */
struct reading {
    struct hbk_answers *answers;
    const char *text;
    char *hint;
};

/* What would be right, for the hint; always false. */
static bool refuse(const struct reading *reading, const char *fmt, ...)
    HBK_PRINTF(2, 3);

static bool refuse(const struct reading *reading, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    (void)vsnprintf(reading->hint, HBK_HINT_SIZE, fmt, args);
    va_end(args);
    return false;
}

/* Without blanks before and behind. */
static const char *trimmed(struct hbk_arena *arena, const char *text)
{
    text += strspn(text, " \t");
    size_t length = strlen(text);
    while (length > 0 && strchr(" \t\r\n", text[length - 1]) != NULL) {
        length--;
    }
    return hbk_arena_copy(arena, text, length);
}

/* The parts of a list, between commas, or else blanks. */
static size_t split(struct hbk_arena *arena, const char *text,
                    const char *parts[LIST_MAX])
{
    const char *const between = strchr(text, ',') != NULL ? "," : " \t";
    size_t n = 0;
    while (*text != '\0') {
        const size_t length = strcspn(text, between);
        const char *const part =
            trimmed(arena, hbk_arena_copy(arena, text, length));
        if (part[0] != '\0') {
            if (n == LIST_MAX) {
                return LIST_MAX + 1;
            }
            parts[n++] = part;
        }
        text += length;
        text += *text != '\0' ? 1 : 0;
    }
    return n;
}

/*
 * Whether a list is as long as what it is about; a count that nobody gave is
 * taken from it.
 */
static bool agrees(const struct reading *reading, enum hbk_question count,
                   size_t n)
{
    struct hbk_answers *const answers = reading->answers;
    const bool is_keys = count == HBK_ASK_KEYS;
    size_t *const of = is_keys ? &answers->n_keys : &answers->n_valves;
    const size_t most =
        is_keys ? (size_t)HBK_BEGIN_KEYS_MAX : (size_t)HBK_BEGIN_VALVES_MAX;
    const char *const things = is_keys ? "keys" : "valves";
    if (answers->given[count] && n != *of) {
        return refuse(reading, "the horn has %zu %s, and this names %zu", *of,
                      things, n);
    }
    if (n == 0 || n > most) {
        return refuse(reading, "name 1 to %zu %s, with blanks between", most,
                      things);
    }
    *of = n;
    answers->given[count] = true;
    return true;
}

static bool read_kind(const struct reading *reading)
{
    char shown[HBK_SHOWN_SIZE];
    const char *nearest = NULL;
    const struct hbk_horn_kind *const kind =
        hbk_horn_kind_find(reading->text, &nearest);
    if (kind == NULL) {
        return refuse(reading, "'%s' is no kind of horn known here%s%s%s",
                      hbk_shown(reading->text, shown),
                      nearest == NULL ? "; say keyed or valved for any other"
                                      : "; did you mean '",
                      nearest == NULL ? "" : nearest,
                      nearest == NULL ? "" : "'?");
    }
    reading->answers->kind = kind;
    return true;
}

bool hbk_key_parse(const char *text, int near, int *sounds)
{
    static const struct {
        const char *word;
        char sign;
    } words[] = {{"flat", 'b'}, {"sharp", '#'}};
    char name[HBK_NAME_SIZE];
    size_t n = 0;
    if (strlen(text) + 3 > sizeof(name)) {
        return false;
    }
    name[n++] = (char)toupper((unsigned char)*text);
    text += *text == '\0' ? 0 : 1;
    const char *const word = text + strspn(text, " -");
    for (size_t i = 0; i < 2; i++) {
        const size_t length = strlen(words[i].word);
        if (strncasecmp(word, words[i].word, length) == 0) {
            name[n++] = words[i].sign;
            text = word + length;
            text += strspn(text, " -");
            break;
        }
    }
    const size_t rest = strlen(text);
    memcpy(name + n, text, rest + 1);
    int note = 0;
    if (hbk_note_parse(name, &note)) {
        *sounds = note;
        return true;
    }
    memcpy(name + n + rest, "4", 2);
    if (!hbk_note_parse(name, &note)) {
        return false;
    }
    while (note - near > 6) {
        note -= 12;
    }
    while (near - note >= 6) {
        note += 12;
    }
    *sounds = note;
    return true;
}

static bool read_key(const struct reading *reading)
{
    enum {
        LEAST = 24,
        MOST = 84
    }; /* two octaves either side of C4, and more */
    struct hbk_answers *const answers = reading->answers;
    char shown[HBK_SHOWN_SIZE];
    const int near =
        answers->kind == NULL ? HBK_NOTE_C4 : answers->kind->sounds;
    int sounds = 0;
    if (!hbk_key_parse(reading->text, near, &sounds) || sounds < LEAST ||
        sounds > MOST) {
        return refuse(reading,
                      "'%s' is no key; write C, Bb, Eb or F, or with an octave "
                      "what written C4 sounds, as in Bb3",
                      hbk_shown(reading->text, shown));
    }
    answers->sounds = sounds;
    return true;
}

/* How many of keys or valves. */
static bool read_count(const struct reading *reading, size_t *count,
                       size_t most, const char *things)
{
    long n = 0;
    if (!hbk_number_parse_whole(reading->text, 0, (long)most, &n)) {
        return refuse(reading, "write how many %s there are, 0 to %zu", things,
                      most);
    }
    *count = (size_t)n;
    return true;
}

static bool read_open(const struct reading *reading)
{
    struct hbk_answers *const answers = reading->answers;
    const char *parts[LIST_MAX];
    const bool is_none = strcasecmp(reading->text, "none") == 0 ||
                         strcmp(reading->text, "0") == 0;
    const size_t n = is_none ? 0 : split(answers->arena, reading->text, parts);
    const size_t most =
        answers->given[HBK_ASK_KEYS] ? answers->n_keys : HBK_BEGIN_KEYS_MAX;
    uint32_t open = 0;
    for (size_t i = 0; i < n && n <= LIST_MAX; i++) {
        long key = 0;
        if (!hbk_number_parse_whole(parts[i], 1, (long)most, &key)) {
            return refuse(reading,
                          "write the numbers of the keys, 1 to %zu from the "
                          "bell, or none",
                          most);
        }
        open |= UINT32_C(1) << (key - 1);
    }
    if (n > LIST_MAX) {
        return refuse(reading, "there are %zu keys at most", most);
    }
    answers->open = open;
    return true;
}

/* Whether a touch is named for a note: see horn/called.h. */
static bool names_note(const char *called)
{
    struct hbk_horn horn = {.n_controls = 1};
    horn.controls[0] = (struct hbk_control){.kind = HBK_KEY, .called = called};
    return hbk_called_note(&horn, 0) >= 0;
}

static bool read_called(const struct reading *reading)
{
    struct hbk_answers *const answers = reading->answers;
    const char *parts[LIST_MAX];
    char shown[HBK_SHOWN_SIZE];
    const size_t n = split(answers->arena, reading->text, parts);
    for (size_t i = 0; i < n && n <= LIST_MAX; i++) {
        if (!names_note(parts[i]) || hbk_text_has_control(parts[i]) ||
            hbk_text_columns(parts[i]) > HBK_BEGIN_CALLED_MAX) {
            return refuse(reading,
                          "'%s' names no note; write one for each key, from "
                          "the bell, as in B C# D Eb E F, or with commas "
                          "where one has a blank, as in high A",
                          hbk_shown(parts[i], shown));
        }
    }
    if (!agrees(reading, HBK_ASK_KEYS, n)) {
        return false;
    }
    memcpy(answers->called, parts, n * sizeof(parts[0]));
    return true;
}

static bool read_lowers(const struct reading *reading)
{
    struct hbk_answers *const answers = reading->answers;
    const char *parts[LIST_MAX];
    int lowers[LIST_MAX] = {0};
    const size_t n = split(answers->arena, reading->text, parts);
    for (size_t i = 0; i < n && n <= LIST_MAX; i++) {
        const bool raises = parts[i][0] == '+';
        long semitones = 0;
        if (!hbk_number_parse_whole(parts[i] + (raises ? 1 : 0), 1,
                                    HBK_BEGIN_SEMITONES_MAX, &semitones)) {
            return refuse(reading,
                          "write semitones, 1 to %d, one for each valve, as in "
                          "2 1 3; +2 for one that raises by a whole tone",
                          HBK_BEGIN_SEMITONES_MAX);
        }
        lowers[i] = (int)(raises ? -semitones : semitones);
    }
    if (!agrees(reading, HBK_ASK_VALVES, n)) {
        return false;
    }
    memcpy(answers->lowers, lowers, n * sizeof(lowers[0]));
    return true;
}

/* A number with its ends; a comma for a point is told. */
static bool read_number(const struct reading *reading, const char *text,
                        const double range[2], double *value)
{
    if (hbk_number_parse(text, value) && *value >= range[0] &&
        *value <= range[1]) {
        return true;
    }
    char shown[HBK_SHOWN_SIZE];
    return strchr(text, ',') != NULL
               ? refuse(reading, "write decimals with a point, as in 452.5")
               : refuse(reading, "'%s' is no number from %g to %g",
                        hbk_shown(text, shown), range[0], range[1]);
}

static bool read_loops(const struct reading *reading)
{
    static const double range[2] = {5.0, 5000.0};
    struct hbk_answers *const answers = reading->answers;
    const char *parts[LIST_MAX];
    double loops[LIST_MAX] = {0.0};
    const size_t n = split(answers->arena, reading->text, parts);
    for (size_t i = 0; i < n && n <= LIST_MAX; i++) {
        if (!read_number(reading, parts[i], range, &loops[i])) {
            return false;
        }
    }
    if (!agrees(reading, HBK_ASK_VALVES, n)) {
        return false;
    }
    memcpy(answers->loops_mm, loops, n * sizeof(loops[0]));
    return true;
}

static bool read_action(const struct reading *reading)
{
    for (int i = 1; i < HBK_ACTION_COUNT; i++) {
        if (strcasecmp(reading->text, hbk_action_name((enum hbk_action)i)) ==
            0) {
            reading->answers->action = (enum hbk_action)i;
            return true;
        }
    }
    return refuse(reading, "valves are made as piston, wide piston, early "
                           "piston, double piston, rotary or string rotary");
}

static bool read_clef(const struct reading *reading)
{
    for (int i = 0; i < HBK_CLEF_COUNT; i++) {
        if (strcasecmp(reading->text, hbk_clef_name((enum hbk_clef)i)) == 0) {
            reading->answers->clef = (enum hbk_clef)i;
            return true;
        }
    }
    return refuse(reading, "a clef is treble, bass, alto or tenor");
}

static bool read_name(const struct reading *reading)
{
    const char *const text = reading->text;
    if (hbk_text_columns(text) > HBK_BEGIN_NAME_MAX ||
        !hbk_text_is_utf8(text, strlen(text)) || hbk_text_has_control(text)) {
        return refuse(reading, "a name has 1 to %d letters, in UTF-8",
                      HBK_BEGIN_NAME_MAX);
    }
    reading->answers->name = text;
    return true;
}

static bool read(const struct reading *reading, enum hbk_question question)
{
    static const double a4[2] = {HBK_A4_LEAST_HZ, HBK_A4_MOST_HZ};
    static const double air[2] = {HBK_AIR_LEAST_C, HBK_AIR_MOST_C};
    static const double length[2] = {400.0, 12000.0};
    struct hbk_answers *const answers = reading->answers;
    const char *const text = reading->text;
    switch (question) {
    case HBK_ASK_KIND:
        return read_kind(reading);
    case HBK_ASK_KEY:
        return read_key(reading);
    case HBK_ASK_KEYS:
        return read_count(reading, &answers->n_keys, HBK_BEGIN_KEYS_MAX,
                          "keys");
    case HBK_ASK_VALVES:
        return read_count(reading, &answers->n_valves, HBK_BEGIN_VALVES_MAX,
                          "valves");
    case HBK_ASK_OPEN:
        return read_open(reading);
    case HBK_ASK_CALLED:
        return read_called(reading);
    case HBK_ASK_LOWERS:
        return read_lowers(reading);
    case HBK_ASK_ACTION:
        return read_action(reading);
    case HBK_ASK_LOOPS:
        return read_loops(reading);
    case HBK_ASK_CLEF:
        return read_clef(reading);
    case HBK_ASK_A4:
        return read_number(reading, text, a4, &answers->a4_hz);
    case HBK_ASK_LENGTH:
        return read_number(reading, text, length, &answers->length_mm);
    case HBK_ASK_TEMPERATURE:
        return read_number(reading, text, air, &answers->temperature_c);
    case HBK_ASK_NAME:
        return read_name(reading);
    case HBK_ASK_COUNT:
        break;
    }
    return false;
}

bool hbk_answer(struct hbk_answers *answers, enum hbk_question question,
                const char *text, char hint[HBK_HINT_SIZE])
{
    struct hbk_answers meant = *answers;
    const struct reading reading = {&meant, trimmed(answers->arena, text),
                                    hint};
    if (reading.text[0] == '\0') {
        return refuse(&reading, "nothing was written");
    }
    if (!read(&reading, question)) {
        return false;
    }
    meant.given[question] = true;
    *answers = meant;
    return true;
}
