#include "music/pitch.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

static const int natural_semitones[7] = {0, 2, 4, 5, 7, 9, 11};
static const char step_letters[] = "CDEFGAB";

/* One accidental sign at `text`: its alteration and its length in bytes. */
static int accidental_at(const char *text, size_t *length)
{
    static const struct {
        const char *sign;
        int alter;
    } signs[] = {
        {"#", 1}, {"b", -1}, {"\xE2\x99\xAF", 1}, {"\xE2\x99\xAD", -1}};
    for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
        const size_t n = strlen(signs[i].sign);
        if (strncmp(text, signs[i].sign, n) == 0) {
            *length = n;
            return signs[i].alter;
        }
    }
    *length = 0;
    return 0;
}

bool hbk_spelling_parse(const char *text, struct hbk_spelling *spelling)
{
    const char *const letter =
        text[0] == '\0' ? NULL : strchr(step_letters, text[0]);
    if (letter == NULL) {
        return false;
    }
    struct hbk_spelling read = {.step = (int)(letter - step_letters)};
    const char *at = text + 1;
    size_t length = 0;
    const int first = accidental_at(at, &length);
    at += length;
    read.alter = first;
    const int second = accidental_at(at, &length);
    if (length > 0) {
        if (second != first) {
            return false; /* "F#b" cancels itself: a slip, not a note */
        }
        at += length;
        read.alter += second;
    }
    const bool is_minus_one = strcmp(at, "-1") == 0;
    if (!is_minus_one && (at[0] < '0' || at[0] > '9' || at[1] != '\0')) {
        return false;
    }
    read.octave = is_minus_one ? -1 : at[0] - '0';
    *spelling = read;
    return true;
}

int hbk_spelling_note(struct hbk_spelling spelling)
{
    return (12 * (spelling.octave + 1)) + natural_semitones[spelling.step] +
           spelling.alter;
}

bool hbk_note_parse(const char *text, int *note)
{
    struct hbk_spelling spelling;
    if (!hbk_spelling_parse(text, &spelling)) {
        return false;
    }
    const int number = hbk_spelling_note(spelling);
    if (number < 0 || number > HBK_NOTE_MAX) {
        return false;
    }
    *note = number;
    return true;
}

static int pitch_class(int note)
{
    return ((note % 12) + 12) % 12;
}

static int octave_of(int note)
{
    return ((note - pitch_class(note)) / 12) - 1;
}

struct hbk_spelling hbk_note_sharp(int note)
{
    static const int steps[12] = {0, 0, 1, 1, 2, 3, 3, 4, 4, 5, 5, 6};
    const int pc = pitch_class(note);
    return (struct hbk_spelling){.step = steps[pc],
                                 .alter = pc - natural_semitones[steps[pc]],
                                 .octave = octave_of(note)};
}

struct hbk_spelling hbk_note_flat(int note)
{
    static const int steps[12] = {0, 1, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6};
    const int pc = pitch_class(note);
    return (struct hbk_spelling){.step = steps[pc],
                                 .alter = pc - natural_semitones[steps[pc]],
                                 .octave = octave_of(note)};
}

bool hbk_note_is_black(int note)
{
    return hbk_note_sharp(note).alter != 0;
}

struct hbk_spelling hbk_note_usual(int note)
{
    const int pc = pitch_class(note);
    return pc == 3 || pc == 10 ? hbk_note_flat(note) : hbk_note_sharp(note);
}

struct hbk_spelling hbk_spelling_moved(struct hbk_spelling spelling,
                                       int semitones)
{
    /* Letters that so many semitones usually are: a tone is one, ... */
    static const int letters[12] = {0, 1, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6};
    const int note = hbk_spelling_note(spelling) + semitones;
    const int within = pitch_class(semitones);
    const int step = spelling.step + letters[within];
    struct hbk_spelling to = {
        .step = step % 7,
        .octave = spelling.octave + ((semitones - within) / 12) + (step / 7)};
    to.alter = note - hbk_spelling_note(to);
    const int usual = abs(spelling.alter) < 2 ? 1 : 2;
    return abs(to.alter) > usual ? hbk_note_usual(note) : to;
}

char *hbk_spelling_letter(struct hbk_spelling spelling,
                          enum hbk_accidentals style, char name[HBK_NAME_SIZE])
{
    static const char *const signs[2][5] = {
        {"bb", "b", "", "#", "##"},
        {"\xE2\x99\xAD\xE2\x99\xAD", "\xE2\x99\xAD", "", "\xE2\x99\xAF",
         "\xE2\x99\xAF\xE2\x99\xAF"},
    };
    (void)snprintf(name, HBK_NAME_SIZE, "%c%s", step_letters[spelling.step],
                   signs[style == HBK_UNICODE][spelling.alter + 2]);
    return name;
}

static const char *german_ending(struct hbk_spelling spelling)
{
    static const char *const sharps[] = {"", "is", "isis"};
    static const char *const flats[] = {"", "es", "eses"};
    /* E and A have their ending without its vowel: Es, As. */
    static const char *const short_flats[] = {"", "s", "ses"};
    const bool vowel = spelling.step == 2 || spelling.step == 5;
    return spelling.alter >= 0 ? sharps[spelling.alter]
           : vowel             ? short_flats[-spelling.alter]
                               : flats[-spelling.alter];
}

char *hbk_spelling_called(struct hbk_spelling spelling, enum hbk_naming naming,
                          enum hbk_accidentals style, char name[HBK_NAME_SIZE])
{
    static const char *const syllables[] = {"do",  "r\u00E9", "mi", "fa",
                                            "sol", "la",      "si"};
    hbk_spelling_letter(spelling, style, name);
    if (naming == HBK_NAMES_SOLFEGE) {
        char sign[HBK_NAME_SIZE];
        (void)snprintf(sign, sizeof(sign), "%s", name + 1);
        (void)snprintf(name, HBK_NAME_SIZE, "%s%.8s", syllables[spelling.step],
                       sign);
    }
    if (naming == HBK_NAMES_GERMAN) {
        const bool is_b = spelling.step == 6;
        if (is_b && spelling.alter == -1) {
            (void)snprintf(name, HBK_NAME_SIZE, "B");
        } else {
            (void)snprintf(name, HBK_NAME_SIZE, "%c%s",
                           is_b ? 'H' : step_letters[spelling.step],
                           german_ending(spelling));
        }
    }
    return name;
}

char *hbk_spelling_said(struct hbk_spelling spelling, enum hbk_naming naming,
                        enum hbk_accidentals style, char name[HBK_NAME_SIZE])
{
    char letter[HBK_NAME_SIZE];
    hbk_spelling_called(spelling, naming, style, letter);
    (void)snprintf(name, HBK_NAME_SIZE, "%.12s%d", letter, spelling.octave);
    return name;
}

static const char *const naming_names[HBK_NAMING_COUNT] = {
    [HBK_NAMES_ENGLISH] = "english",
    [HBK_NAMES_GERMAN] = "german",
    [HBK_NAMES_SOLFEGE] = "solfege"};

const char *hbk_naming_name(enum hbk_naming naming)
{
    return naming_names[naming];
}

bool hbk_naming_parse(const char *text, enum hbk_naming *naming)
{
    for (int i = 0; i < HBK_NAMING_COUNT; i++) {
        if (strcasecmp(text, naming_names[i]) == 0) {
            *naming = (enum hbk_naming)i;
            return true;
        }
    }
    return false;
}

char *hbk_spelling_name(struct hbk_spelling spelling,
                        enum hbk_accidentals style, char name[HBK_NAME_SIZE])
{
    char letter[HBK_NAME_SIZE];
    hbk_spelling_letter(spelling, style, letter);
    (void)snprintf(name, HBK_NAME_SIZE, "%.10s%d", letter, spelling.octave);
    return name;
}

char *hbk_note_name(int note, enum hbk_accidentals style,
                    char name[HBK_NAME_SIZE])
{
    if (note < 0 || note > HBK_NOTE_MAX) {
        (void)snprintf(name, HBK_NAME_SIZE, "?");
        return name;
    }
    return hbk_spelling_name(hbk_note_usual(note), style, name);
}

int hbk_spelling_staff_step(struct hbk_spelling spelling)
{
    return (7 * (spelling.octave - 4)) + spelling.step;
}

double hbk_note_hz(int note, double a4_hz)
{
    return a4_hz * exp2((note - HBK_NOTE_A4) / 12.0);
}

double hbk_cents(double hz, double reference_hz)
{
    return HBK_OCTAVE_CENTS * log2(hz / reference_hz);
}

double hbk_cents_in_octave(double hz, double reference_hz)
{
    const double cents = hbk_cents(hz, reference_hz);
    return cents - (HBK_OCTAVE_CENTS * round(cents / HBK_OCTAVE_CENTS));
}

double hbk_cents_ratio(double cents)
{
    return exp2(cents / HBK_OCTAVE_CENTS);
}
