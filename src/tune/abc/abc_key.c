#include "tune/abc/abc_key.h"

#include "base/messages.h"
#include "base/number.h"
#include "tune/abc/abc_text.h"

#include <string.h>

static const char tonics[] = "FCGDAEB"; /* fifths -1 to 5 */

static const struct {
    const char *begin; /* first three letters */
    const char *mode;
    int shift;
} modes[] = {
    {"maj", "major", 0},     {"ion", "ionian", 0},      {"min", "minor", -3},
    {"aeo", "aeolian", -3},  {"mix", "mixolydian", -1}, {"dor", "dorian", -2},
    {"phr", "phrygian", -4}, {"lyd", "lydian", 1},      {"loc", "locrian", -5},
};

static const struct {
    const char *name;
    struct hbk_tune_clef clef;
} clefs[] = {
    {"treble", {.sign = 'G', .line = 2}}, {"bass", {.sign = 'F', .line = 4}},
    {"alto", {.sign = 'C', .line = 3}},   {"tenor", {.sign = 'C', .line = 4}},
    {"perc", {.sign = 'P', .line = 3}},   {"none", {.sign = 'N', .line = 3}},
};

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static size_t letters_at(const char *text)
{
    size_t n = 0;
    while (hbk_abc_is_letter(text[n])) {
        n++;
    }
    return n;
}

/* A clef name at the start of a word, with its line and its small 8. */
static bool clef_at(const char *word, struct hbk_tune_clef *clef)
{
    for (size_t i = 0; i < sizeof(clefs) / sizeof(clefs[0]); i++) {
        const size_t n = strlen(clefs[i].name);
        if (strncmp(word, clefs[i].name, n) != 0 ||
            hbk_abc_is_letter(word[n])) {
            continue;
        }
        struct hbk_tune_clef found = clefs[i].clef;
        const char *rest = word + n;
        if (*rest >= '1' && *rest <= '5') {
            found.line = *rest - '0';
            rest++;
        }
        if ((rest[0] == '+' || rest[0] == '-') && rest[1] == '8') {
            found.octave = rest[0] == '+' ? 1 : -1;
        }
        *clef = found;
        return true;
    }
    return false;
}

static void use_clef(struct hbk_abc *abc, const char *word)
{
    struct hbk_tune_clef clef = clefs[0].clef; /* also for unknown names */
    (void)clef_at(word, &clef);
    abc->said.clef = clef;
    abc->said.clef_transpose = 12 * clef.octave;
}

static void read_clef_words(struct hbk_abc *abc, const char *text)
{
    const char *word = hbk_abc_skip_spaces(text);
    struct hbk_tune_clef clef;
    while (*word != '\0') {
        size_t n = strcspn(word, " \t\"");
        if (word[n] == '"') { /* name="First cornet" */
            const char *const close = strchr(word + n + 1, '"');
            n = close == NULL ? strlen(word) : (size_t)(close - word) + 1;
        }
        char value[16] = "";
        const char *const sign = memchr(word, '=', n);
        if (sign != NULL) {
            const size_t left = n - (size_t)(sign + 1 - word);
            memcpy(value, sign + 1, left < 15 ? left : 15);
        }
        long number = 0;
        if (strncmp(word, "clef=", 5) == 0) {
            use_clef(abc, value);
        } else if (strncmp(word, "octave=", 7) == 0) {
            if (hbk_number_parse_whole(value, -9, 9, &number)) {
                abc->said.octave = (int)number;
            }
        } else if (strncmp(word, "transpose=", 10) == 0 ||
                   strncmp(word, "t=", 2) == 0) {
            if (hbk_number_parse_whole(value, -60, 60, &number)) {
                abc->said.key_transpose = (int)number;
                abc->said.says_transpose = true;
            }
        } else if (sign == NULL && clef_at(word, &clef)) {
            use_clef(abc, word);
        }
        word = hbk_abc_skip_spaces(word + n);
    }
}

void hbk_abc_clef_words(struct hbk_abc *abc, const char *text)
{
    read_clef_words(abc, text);
    struct hbk_tune *const tune = abc->build.tune;
    const int transpose = abc->said.key_transpose + abc->said.clef_transpose;
    if (tune->n_events == 0) {
        tune->transpose = transpose;
        tune->says_transposition = abc->said.says_transpose;
    } else if (tune->transpose != transpose && !abc->said.transpose_told) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->line.begin),
                       HBK_H_TRANSPOSE_CHANGE,
                       "the transposition changes; the notes are read as "
                       "written, the sounding ones go by the beginning");
        abc->said.transpose_told = true;
    }
}

/* Reads a mode at `text`; returns what is left. */
static const char *mode_at(const char *text, const char **mode, int *shift,
                           bool *only_signs)
{
    const char *const word = hbk_abc_skip_spaces(text);
    const size_t n = letters_at(word);
    *mode = "major";
    *shift = 0;
    if (n == 1 && lower(word[0]) == 'm' && word[1] != '=') {
        *mode = "minor";
        *shift = -3;
        return word + 1;
    }
    if (n < 3 || word[n] == '=') {
        return text;
    }
    const char begin[4] = {lower(word[0]), lower(word[1]), lower(word[2]), 0};
    if (strcmp(begin, "exp") == 0) {
        *only_signs = true;
        return word + n;
    }
    for (size_t i = 0; i < sizeof(modes) / sizeof(modes[0]); i++) {
        if (strcmp(begin, modes[i].begin) == 0) {
            *mode = modes[i].mode;
            *shift = modes[i].shift;
            return word + n;
        }
    }
    return text;
}

/* Signs such as ^f __b =c after the mode; returns what is left. */
static const char *signs_at(const char *text, struct hbk_tune_key *key)
{
    static const char steps[] = "cdefgab";
    for (;;) {
        const char *const word = hbk_abc_skip_spaces(text);
        const size_t n = strspn(word, "^_=");
        const char letter = n == 0 ? '\0' : lower(word[n]);
        const char *const step = letter == '\0' ? NULL : strchr(steps, letter);
        if (step == NULL || n > 2) {
            return text;
        }
        const int alter = word[0] == '^'   ? (int)n
                          : word[0] == '_' ? -(int)n
                                           : 0;
        key->alter[step - steps] = alter;
        text = word + n + 1;
    }
}

/* Gives altered signatures that are ordinary ones their number of signs. */
static void recognise(struct hbk_tune_key *key)
{
    const char *const mode = key->mode;
    key->traditional = false;
    key->mode = "";
    key->fifths = 0;
    for (int fifths = -7; fifths <= 7; fifths++) {
        const struct hbk_tune_key plain = hbk_build_key(fifths, mode);
        if (memcmp(plain.alter, key->alter, sizeof(plain.alter)) == 0) {
            *key = plain;
            return;
        }
    }
}

static bool key_at(const char **text, struct hbk_tune_key *key)
{
    const char *at = *text;
    if (strncmp(at, "HP", 2) == 0 || strncmp(at, "Hp", 2) == 0) {
        *key = hbk_build_key(at[1] == 'p' ? 2 : 0, "");
        *text = at + 2;
        return true;
    }
    const char *const tonic = strchr(tonics, at[0]);
    if (at[0] == '\0' || tonic == NULL) {
        return false;
    }
    int fifths = (int)(tonic - tonics) - 1;
    at++;
    if (*at == '#' || *at == 'b') {
        fifths += *at == '#' ? 7 : -7;
        at++;
    }
    const char *mode = "major";
    int shift = 0;
    bool only_signs = false;
    at = mode_at(at, &mode, &shift, &only_signs);
    fifths += shift;
    if (!only_signs && (fifths < -7 || fifths > 7)) {
        return false;
    }
    *key = only_signs ? hbk_build_key(0, "") : hbk_build_key(fifths, mode);
    *text = signs_at(at, key);
    recognise(key);
    return true;
}

void hbk_abc_key_field(struct hbk_abc *abc, const char *text)
{
    const char *rest = hbk_abc_skip_spaces(text);
    struct hbk_tune_clef clef;
    const bool is_none =
        strncmp(rest, "none", 4) == 0 && !hbk_abc_is_letter(rest[4]);
    if (is_none || *rest == '\0') {
        abc->said.key = hbk_build_key(0, "");
        rest += is_none ? 4 : 0;
    } else if (strncmp(rest, "exp", 3) == 0) {
        struct hbk_tune_key key = hbk_build_key(0, "");
        rest = signs_at(rest + letters_at(rest), &key);
        recognise(&key);
        abc->said.key = key;
    } else if (!clef_at(rest, &clef) && strchr("^_=", *rest) != NULL) {
        rest = signs_at(rest, &abc->said.key);
        recognise(&abc->said.key);
    } else if (!clef_at(rest, &clef) && letters_at(rest) > 0 &&
               rest[letters_at(rest)] != '=' &&
               !key_at(&rest, &abc->said.key)) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, abc->line.begin),
                        HBK_H_ABC_FIELD,
                        "\"%.40s\" is not a key; right would be G, Bbm or "
                        "D dorian, up to seven sharps or flats",
                        text);
        return;
    }
    hbk_abc_clef_words(abc, rest);
}
