#include "tune/abc/abc_field.h"

#include "base/messages.h"
#include "base/number.h"
#include "base/text.h"
#include "tune/abc/abc_key.h"
#include "tune/abc/abc_mark.h"
#include "tune/abc/abc_signs.h"
#include "tune/abc/abc_text.h"
#include "tune/abc/abc_words.h"
#include "tune/melody/build_marks.h"

#include <string.h>

static void field_error(struct hbk_abc *abc, char letter, const char *text,
                        const char *right)
{
    hbk_build_error(
        &abc->build, hbk_abc_place(abc, abc->line.begin), HBK_H_ABC_FIELD,
        "%c:%.40s cannot be read; right would be %s", letter, text, right);
}

/* A whole number of up to four digits; returns what is left, or NULL. */
static const char *small_number(const char *text, long *number)
{
    return hbk_number_count(text, 4, number);
}

static bool is_power_of_two(long n)
{
    return n > 0 && (n & (n - 1)) == 0;
}

/* Beats such as 4, 2+3+2 or (2+3+2); returns what is left, or NULL. */
static const char *beats_at(const char *text, struct hbk_tune_meter *meter)
{
    const bool closed = *text == '(';
    const char *at = text + (closed ? 1 : 0);
    for (;;) {
        long part = 0;
        at = small_number(hbk_abc_skip_spaces(at), &part);
        if (at == NULL || part < 1 || meter->beats + part > 999) {
            return NULL;
        }
        meter->beats += (unsigned)part;
        at = hbk_abc_skip_spaces(at);
        if (*at != '+') {
            break;
        }
        at++;
    }
    if (closed) {
        return *at == ')' ? hbk_abc_skip_spaces(at + 1) : NULL;
    }
    return at;
}

/* "2+3+2" from "(2 + 3 + 2)/8". */
static const char *groups_of(struct hbk_arena *arena, const char *text)
{
    struct hbk_text groups = {.arena = arena};
    for (const char *c = text; *c != '\0' && *c != '/'; c++) {
        if (*c == '+' || (*c >= '0' && *c <= '9')) {
            hbk_text_put(&groups, c, 1);
        }
    }
    return hbk_text_string(&groups);
}

static void meter_field(struct hbk_abc *abc, const char *text)
{
    struct hbk_tune_meter meter = {.beats = 0, .unit = 4};
    if (strcmp(text, "C") == 0) {
        meter.beats = 4;
        meter.sign = HBK_TUNE_METER_COMMON;
    } else if (strcmp(text, "C|") == 0) {
        meter.beats = 2;
        meter.unit = 2;
        meter.sign = HBK_TUNE_METER_CUT;
    } else if (strcmp(text, "none") != 0 && text[0] != '\0') {
        long unit = 0;
        const char *at = beats_at(text, &meter);
        at = at != NULL && *at == '/'
                 ? small_number(hbk_abc_skip_spaces(at + 1), &unit)
                 : NULL;
        if (at == NULL || *hbk_abc_skip_spaces(at) != '\0' ||
            !is_power_of_two(unit) || unit > 128) {
            field_error(abc, 'M', text, "4/4, 6/8, C, C| or none");
            return;
        }
        meter.unit = (unsigned)unit;
        meter.groups = strchr(text, '+') != NULL
                           ? groups_of(abc->build.arena, text)
                           : NULL;
    }
    abc->said.meter = meter;
    if (abc->in_body) {
        hbk_build_set_meter(&abc->build, meter);
    }
}

/* n/m, or n alone; returns what is left, or NULL. */
static const char *fraction_at(const char *text, struct hbk_ratio *ratio)
{
    long num = 0;
    long den = 1;
    const char *at = small_number(text, &num);
    if (at != NULL && *at == '/') {
        at = small_number(at + 1, &den);
    }
    if (at == NULL || num < 1 || !hbk_ratio_make(num, den, ratio)) {
        return NULL;
    }
    return at;
}

static void length_field(struct hbk_abc *abc, const char *text)
{
    struct hbk_ratio unit;
    const char *const rest = fraction_at(text, &unit);
    if (rest == NULL || *hbk_abc_skip_spaces(rest) != '\0' ||
        !is_power_of_two(unit.den)) {
        field_error(abc, 'L', text, "1/8 or 1/4");
        return;
    }
    abc->said.unit = unit;
    abc->said.unit_given = true;
}

/* The beat of a tempo in whole notes: lengths summed, or C and a count. */
static const char *beat_at(const char *text, struct hbk_ratio *beat,
                           bool *in_units)
{
    const char *at = hbk_abc_skip_spaces(text);
    if (*at == 'C') {
        long count = 1;
        at++;
        if (*at >= '0' && *at <= '9') {
            at = small_number(at, &count);
        }
        *in_units = true;
        *beat = hbk_ratio_whole(count);
        return at == NULL ? NULL : hbk_abc_skip_spaces(at);
    }
    *beat = hbk_ratio_whole(0);
    while (at != NULL && *at >= '0' && *at <= '9') {
        struct hbk_ratio part;
        at = fraction_at(at, &part);
        if (at == NULL || !hbk_ratio_add(*beat, part, beat)) {
            return NULL;
        }
        at = hbk_abc_skip_spaces(at);
    }
    return at;
}

/* The numbers of a tempo; its beat counts unit lengths if `in_units`. */
static bool parse_tempo(const char *text, struct hbk_tune_tempo *tempo,
                        bool *in_units)
{
    tempo->beat = hbk_ratio_whole(1);
    const char *at = text;
    *in_units = strchr(text, '=') == NULL;
    if (!*in_units) {
        at = beat_at(text, &tempo->beat, in_units);
        if (at == NULL || *at != '=') {
            return false;
        }
        at = hbk_abc_skip_spaces(at + 1);
    }
    size_t used = 0;
    if (!hbk_number_prefix(at, &tempo->beats, &used) ||
        *hbk_abc_skip_spaces(at + used) != '\0') {
        return false;
    }
    tempo->quarters =
        tempo->beats * hbk_ratio_value(tempo->beat) * (*in_units ? 1.0 : 4.0);
    return tempo->quarters >= 0.5 && tempo->quarters <= 20000.0;
}

void hbk_abc_set_unit_tempo(struct hbk_abc *abc, struct hbk_tune_tempo tempo)
{
    tempo.quarters *= 4.0 * hbk_ratio_value(abc->said.unit);
    if (!hbk_ratio_mul(tempo.beat, abc->said.unit, &tempo.beat)) {
        tempo.beat = hbk_ratio_whole(0);
    }
    hbk_build_set_tempo(&abc->build, tempo);
}

/* Parts what stands in quotes, before or after the numbers, from the rest. */
static const char *part_words(struct hbk_arena *arena, const char *text,
                              const char **words)
{
    struct hbk_text numbers = {.arena = arena};
    struct hbk_text quoted = {.arena = arena};
    bool inside = false;
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '"') {
            inside = !inside;
            if (inside && quoted.length > 0) {
                hbk_text_add(&quoted, " ");
            }
        } else {
            hbk_text_put(inside ? &quoted : &numbers, c, 1);
        }
    }
    while (numbers.length > 0 &&
           strchr(" \t", numbers.bytes[numbers.length - 1]) != NULL) {
        numbers.bytes[--numbers.length] = '\0';
    }
    *words = hbk_abc_skip_spaces(hbk_text_string(&quoted));
    return hbk_abc_skip_spaces(hbk_text_string(&numbers));
}

/* What is printed of a tempo: at once within music, or when it begins. */
static void print_tempo(struct hbk_abc *abc, const char *words, bool has_number)
{
    if (abc->in_body) {
        hbk_abc_mark_tempo(abc, words, has_number);
    } else {
        abc->said.tempo_words = words;
        abc->said.tempo_given = has_number;
    }
}

static void tempo_field(struct hbk_abc *abc, const char *text)
{
    struct hbk_tune_tempo tempo = {.event = 0};
    const char *const numbers =
        part_words(abc->build.arena, text, &tempo.words);
    if (strpbrk(numbers, "0123456789") == NULL) {
        /* "Andante": a word is no number. */
        const char *const words =
            tempo.words[0] == '\0' ? numbers : tempo.words;
        if (words[0] != '\0') {
            print_tempo(abc, words, false);
        }
        return;
    }
    bool in_units = false;
    if (!parse_tempo(numbers, &tempo, &in_units)) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->line.begin),
                       HBK_H_ABC_FIELD,
                       "Q:%.40s is not a tempo and is left out; right would "
                       "be 1/4=120",
                       text);
        return;
    }
    if (!in_units) {
        hbk_build_set_tempo(&abc->build, tempo);
    } else if (abc->in_body) {
        hbk_abc_set_unit_tempo(abc, tempo);
    } else {
        abc->said.unit_tempo = tempo;
    }
    print_tempo(abc, tempo.words, true);
}

/*
 * name="Solo Cornet" (or nm=) of the voice that is read is the name of its
 * part. Returns the words of the field without what stands in quotes.
 */
static const char *take_name(struct hbk_abc *abc, const char *text)
{
    struct hbk_text words = {.arena = abc->build.arena};
    for (const char *at = text; *at != '\0'; at++) {
        const char *const close = *at == '"' ? strchr(at + 1, '"') : NULL;
        if (close == NULL) {
            hbk_text_put(&words, at, 1);
            continue;
        }
        const char *const before = words.length == 0 ? "" : words.bytes;
        const size_t n = words.length;
        const bool is_name =
            (n >= 6 && memcmp(before + n - 6, " name=", 6) == 0) ||
            (n >= 4 && memcmp(before + n - 4, " nm=", 4) == 0);
        if (is_name && close > at + 1) {
            abc->build.tune->part = hbk_arena_copy(abc->build.arena, at + 1,
                                                   (size_t)(close - at - 1));
        }
        at = close;
    }
    return words.length == 0 ? "" : hbk_text_string(&words);
}

static void voice_field(struct hbk_abc *abc, const char *text)
{
    const char *const id = hbk_abc_skip_spaces(text);
    size_t n = strcspn(id, " \t");
    if (n == 1 && id[0] == '*') {
        hbk_abc_clef_words(abc, id + n);
        return;
    }
    const char *const rest = id + n;
    n = n < HBK_ABC_VOICE_SIZE - 1 ? n : HBK_ABC_VOICE_SIZE - 1;
    for (size_t i = 0; i < abc->voices.n; i++) {
        if (strlen(abc->voices.names[i]) == n &&
            memcmp(abc->voices.names[i], id, n) == 0) {
            if ((int)i == abc->voices.chosen) {
                hbk_abc_clef_words(abc, take_name(abc, rest));
                if (abc->in_body) {
                    hbk_build_set_clef(&abc->build, abc->said.clef);
                }
            }
            abc->voices.current = abc->in_body ? (int)i : abc->voices.current;
        }
    }
}

/* U: T = !trill! */
static void symbol_field(struct hbk_abc *abc, const char *text)
{
    const char letter = text[0];
    const char *at = hbk_abc_skip_spaces(letter == '\0' ? text : text + 1);
    const bool may_be = letter == '~' || (letter >= 'H' && letter <= 'W') ||
                        (letter >= 'h' && letter <= 'w');
    if (!may_be || *at != '=') {
        field_error(abc, 'U', text, "T = !trill! with a letter H-W, h-w or ~");
        return;
    }
    at = hbk_abc_skip_spaces(at + 1);
    const char *const close = at[0] == '!' || at[0] == '+' || at[0] == '"'
                                  ? strchr(at + 1, at[0])
                                  : NULL;
    const char *meaning = "";
    if (close != NULL && at[0] != '"') {
        meaning =
            hbk_arena_copy(abc->build.arena, at + 1, (size_t)(close - at - 1));
    } else if (close != NULL && strchr("^_<>@", at[1]) != NULL) {
        meaning = hbk_arena_copy(abc->build.arena, at, (size_t)(close - at));
    }
    abc->said.symbols[(unsigned char)letter] = meaning;
}

void hbk_abc_instruction(struct hbk_abc *abc, const char *text)
{
    static const char propagate[] = "propagate-accidentals";
    const size_t n = sizeof(propagate) - 1;
    const char *const word = hbk_abc_skip_spaces(text);
    if (strncmp(word, propagate, n) == 0) {
        const char *const how = hbk_abc_skip_spaces(word + n);
        abc->said.reach = strcmp(how, "not") == 0      ? HBK_ABC_REACH_NOT
                          : strcmp(how, "octave") == 0 ? HBK_ABC_REACH_OCTAVE
                                                       : HBK_ABC_REACH_PITCH;
    } else if (strncmp(word, "text ", 5) == 0 ||
               strncmp(word, "center ", 7) == 0) {
        hbk_build_left_out(&abc->build, "line of text on the page",
                           "lines of text on the page");
    } else if (strncmp(word, "abc-include", 11) == 0) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->line.begin),
                       HBK_H_ABC_INCLUDE,
                       "abc-include is not followed: no other file "
                       "is opened");
    }
}

/* Adds a text after what is there. */
static void append(struct hbk_arena *arena, const char **to,
                   const char *between, const char *text)
{
    if (text[0] != '\0') {
        *to = (*to)[0] == '\0'
                  ? text
                  : hbk_arena_printf(arena, "%s%s%s", *to, between, text);
    }
}

static void title_field(struct hbk_abc *abc, const char *text)
{
    struct hbk_tune *const tune = abc->build.tune;
    if (abc->in_body) {
        hbk_abc_mark_part(abc, text);
    } else if (tune->title[0] == '\0') {
        tune->title = text;
    } else {
        append(abc->build.arena, &tune->subtitle, "\n", text);
    }
}

static void about_field(struct hbk_abc *abc, const char *text)
{
    if (abc->keeps_about) {
        abc->about.arena = abc->build.arena;
        hbk_text_addf(&abc->about, "%s%s", abc->about.length == 0 ? "" : "\n",
                      text);
        abc->build.tune->about = hbk_text_string(&abc->about);
    } else {
        hbk_build_left_out(&abc->build, "line about the tune",
                           "lines about the tune");
    }
}

/* Lines that go with the music of the chosen voice, or below all of it. */
static void words_field(struct hbk_abc *abc, char letter, const char *text)
{
    if (letter == 'W') {
        hbk_build_stanza(&abc->build, text);
    } else if (abc->in_body && hbk_abc_is_heard(abc)) {
        if (letter == 'w') {
            hbk_abc_words_line(abc, text);
        } else {
            hbk_abc_signs_line(abc, text);
        }
    }
}

/* The fields that only the chosen voice listens to. */
static void music_field(struct hbk_abc *abc, char letter, const char *text)
{
    if (abc->in_body && !hbk_abc_is_heard(abc)) {
        return;
    }
    if (letter == 'M') {
        meter_field(abc, text);
    } else if (letter == 'L') {
        length_field(abc, text);
    } else if (letter == 'Q') {
        tempo_field(abc, text);
    } else {
        hbk_abc_key_field(abc, text);
        if (abc->in_body) {
            hbk_build_set_key(&abc->build, abc->said.key);
            hbk_build_set_clef(&abc->build, abc->said.clef);
        }
    }
}

bool hbk_abc_field(struct hbk_abc *abc, char letter, const char *text)
{
    switch (letter) {
    case 'M':
    case 'L':
    case 'Q':
    case 'K':
        music_field(abc, letter, text);
        return true;
    case 'V':
        voice_field(abc, text);
        return true;
    case 'T':
        title_field(abc, text);
        return true;
    case 'C':
        append(abc->build.arena, &abc->build.tune->composer, ", ", text);
        return true;
    case 'W':
    case 'w':
    case 's':
        words_field(abc, letter, text);
        return true;
    case 'U':
        symbol_field(abc, text);
        return true;
    case 'I':
        hbk_abc_instruction(abc, text);
        return true;
    case 'P':
        if (abc->in_body) {
            hbk_abc_mark_part(abc, text);
            hbk_abc_part_label(abc, text);
        } else {
            abc->said.order = text;
            hbk_abc_part_order(abc, text);
        }
        return true;
    case 'm':
        hbk_build_error(&abc->build, hbk_abc_place(abc, abc->line.begin),
                        HBK_H_ABC_MACRO,
                        "macros are not read; write out what \"%.40s\" "
                        "stands for",
                        text);
        return true;
    default:
        if (letter != '\0' && strchr("ABDFGHNORSZ", letter) != NULL) {
            about_field(abc, text);
            return true;
        }
        return letter == 'E' || letter == 'X' || letter == 'r';
    }
}
