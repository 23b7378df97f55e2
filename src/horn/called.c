#include "horn/called.h"

#include "horn/horn.h"

#include <stdbool.h>
#include <string.h>

enum { OCTAVE = 12, FIFTH = 7, NOT_A_NOTE = -1, GERMAN_B = 10 };

static const char separators[] = " .,;/+()";

/* One word of a text. */
struct word {
    const char *at;
    size_t length;
};

static bool next_word(const char **at, struct word *word)
{
    *at += strspn(*at, separators);
    *word = (struct word){*at, strcspn(*at, separators)};
    *at += word->length;
    return word->length > 0;
}

static bool is_word(struct word word, const char *text)
{
    return strlen(text) == word.length &&
           memcmp(word.at, text, word.length) == 0;
}

/* Semitones up from C of a letter A to H, either case; else NOT_A_NOTE. */
static int of_letter(char letter)
{
    static const signed char semitones[] = {9, 11, 0, 2, 4, 5, 7, 11};
    if (letter >= 'a' && letter <= 'h') {
        return semitones[letter - 'a'];
    }
    return letter >= 'A' && letter <= 'H' ? semitones[letter - 'A']
                                          : NOT_A_NOTE;
}

/* A sign after the letter. */
struct sign {
    const char *text;
    int alter;
    bool german;
};

static const struct sign signs[] = {
    {"#", 1, false},       {"\u266f", 1, false}, {"b", -1, false},
    {"\u266d", -1, false}, {"is", 1, true},      {"es", -1, true},
    {"s", -1, true},
};

/* Whether nothing is left but figures or strokes that tell an octave. */
static bool tells_octave(const char *at, const char *end)
{
    static const char *const marks[] = {"\u00b9", "\u00b2", "\u00b3", "'"};
    while (at < end) {
        size_t length = *at >= '0' && *at <= '9' ? 1 : 0;
        for (size_t i = 0; i < sizeof(marks) / sizeof(marks[0]); i++) {
            if (strncmp(at, marks[i], strlen(marks[i])) == 0) {
                length = strlen(marks[i]);
            }
        }
        if (length == 0) {
            return false;
        }
        at += length;
    }
    return true;
}

/* A word that is a note. */
struct named {
    int note; /* from C up; NOT_A_NOTE */
    bool plain_b;
    bool german;
};

static struct named read_word(struct word word, bool is_all)
{
    const struct named none = {.note = NOT_A_NOTE};
    const char *const end = word.at + word.length;
    const int natural = of_letter(word.at[0]);
    if (natural == NOT_A_NOTE) {
        return none;
    }
    const char *after = word.at + 1;
    const struct sign *sign = NULL;
    for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
        const size_t length = strlen(signs[i].text);
        if (sign == NULL && (size_t)(end - after) >= length &&
            memcmp(after, signs[i].text, length) == 0 &&
            tells_octave(after + length, end)) {
            sign = &signs[i];
            after += length;
        }
    }
    /* E and A alone drop a vowel: Es, As. */
    const char letter = (char)(word.at[0] & ~0x20);
    const bool bare_s = sign != NULL && strcmp(sign->text, "s") == 0;
    const bool german_sign = sign != NULL && sign->german;
    const bool is_small = word.at[0] >= 'a';
    if (!tells_octave(after, end) ||
        (bare_s && letter != 'E' && letter != 'A') ||
        (is_small && !is_all && (german_sign || word.length == 1))) {
        return none;
    }
    const int alter = sign == NULL ? 0 : sign->alter;
    return (struct named){
        .note = (natural + alter + OCTAVE) % OCTAVE,
        .plain_b = letter == 'B' && sign == NULL,
        .german = letter == 'H' || german_sign,
    };
}

/* Up to two notes of a text; returns how many. */
static size_t read_text(const char *text, struct named found[2])
{
    size_t n = 0;
    bool just_named = false;
    const char *at = text;
    struct word word;
    while (next_word(&at, &word)) {
        const int alter = is_word(word, "flat")    ? -1
                          : is_word(word, "sharp") ? 1
                                                   : 0;
        if (alter != 0 && just_named) {
            struct named *const last = &found[n - 1];
            last->note = (last->note + alter + OCTAVE) % OCTAVE;
            last->plain_b = false;
            just_named = false;
            continue;
        }
        const struct named named =
            read_word(word, word.at == text && *at == '\0');
        just_named = named.note != NOT_A_NOTE && n < 2;
        if (just_named) {
            found[n++] = named;
        }
    }
    return n;
}

static bool is_german(const struct hbk_horn *horn)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        struct named found[2];
        const char *const text = horn->controls[i].called;
        const size_t n = text == NULL ? 0 : read_text(text, found);
        for (size_t k = 0; k < n; k++) {
            if (found[k].german) {
                return true;
            }
        }
    }
    return false;
}

int hbk_called_note(const struct hbk_horn *horn, size_t control)
{
    const char *const text = horn->controls[control].called;
    struct named found[2];
    const size_t n = text == NULL ? 0 : read_text(text, found);
    if (n == 0) {
        return NOT_A_NOTE;
    }
    const bool german = is_german(horn);
    for (size_t k = 0; k < n; k++) {
        if (german && found[k].plain_b) {
            found[k].note = GERMAN_B;
        }
    }
    const bool second_is_lower =
        n == 2 && (found[1].note + FIFTH) % OCTAVE == found[0].note;
    return found[second_is_lower ? 1 : 0].note;
}
