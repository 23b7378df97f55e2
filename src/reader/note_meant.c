#include "reader/note_meant.h"

#include "base/messages.h"
#include "music/pitch.h"
#include "reader/shown.h"
#include "reader/value.h"

#include <stdio.h>
#include <string.h>

struct word {
    const char *word, *means;
};

static const struct word letters[] = {
    {"do", "C"}, {"ut", "C"},  {"re", "D"}, {"r\u00E9", "D"}, {"mi", "E"},
    {"fa", "F"}, {"sol", "G"}, {"la", "A"}, {"si", "B"},      {"a", "A"},
    {"b", "B"},  {"c", "C"},   {"d", "D"},  {"e", "E"},       {"f", "F"},
    {"g", "G"},  {"h", "B"},
};

/* Longer ones first, so that each is taken whole. */
static const struct word accidentals[] = {
    {"b\u00E9mol", "b"}, {"bemol", "b"}, {"flat", "b"},  {"\u266D", "b"},
    {"di\u00E8se", "#"}, {"diese", "#"}, {"sharp", "#"}, {"\u266F", "#"},
    {"bb", "bb"},        {"##", "##"},   {"#", "#"},     {"is", "#"},
    {"es", "b"},         {"s", "b"},     {"b", "b"},     {"", ""},
};

/* What the text begins with, in small letters; moves on behind it. */
static const char *take(const char **text, const struct word words[], size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const size_t length = strlen(words[i].word);
        if (strncmp(*text, words[i].word, length) == 0) {
            *text += length;
            return words[i].means;
        }
    }
    return NULL;
}

static const char *skip_blanks(const char *text)
{
    return text + strspn(text, " -");
}

/*
 * The note that a text names in another way than files do; false where it is
 * none. Its octave is taken to count as here.
 */
static bool note_meant(const char *text, char name[HBK_NAME_SIZE])
{
    char small[24] = "";
    if (strlen(text) >= sizeof(small)) {
        return false;
    }
    for (size_t i = 0; text[i] != '\0'; i++) {
        const char c = text[i];
        small[i] = c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
    }
    const char *at = small;
    const char *const letter =
        take(&at, letters, sizeof(letters) / sizeof(letters[0]));
    if (letter == NULL) {
        return false;
    }
    at = skip_blanks(at);
    char turned[24]; /* F3# as F#3 */
    const size_t digits = strspn(at, "0123456789");
    if (digits > 0 && at[digits] != '\0') {
        (void)snprintf(turned, sizeof(turned), "%s%.*s", at + digits,
                       (int)digits, at);
        at = skip_blanks(turned);
    }
    const char *const accidental =
        take(&at, accidentals, sizeof(accidentals) / sizeof(accidentals[0]));
    at = *accidental == '\0' ? at : skip_blanks(at);
    (void)snprintf(name, HBK_NAME_SIZE, "%s%s%.4s", letter, accidental, at);
    int note = 0;
    return strlen(at) <= 2 && hbk_note_parse(name, &note);
}

bool hbk_seems_note(const char *text)
{
    char name[HBK_NAME_SIZE];
    return (text[0] >= 'A' && text[0] <= 'H') || note_meant(text, name);
}

bool hbk_value_note(struct hbk_asked asked, int *value)
{
    if (!hbk_value_is_word(asked, "a note such as F#4")) {
        return false;
    }
    const char *const text = asked.node->text;
    if (hbk_note_parse(text, value)) {
        return true;
    }
    char shown[HBK_SHOWN_SIZE];
    char meant[HBK_NAME_SIZE];
    hbk_shown(text, shown);
    if (text[0] == 'b' && text[1] >= '0' && text[1] <= '9' && text[2] == 0) {
        hbk_value_fault(asked, HBK_H_NOT_A_NOTE,
                        "'%s' is not a note; write B%c, or Bb%c for B flat",
                        shown, text[1], text[1]);
    } else if (text[0] != 'H' && text[0] != 'h' && note_meant(text, meant)) {
        hbk_value_fault(asked, HBK_H_NOT_A_NOTE,
                        "'%s' is not a note as it is written here; did you "
                        "mean %s? (C4 is middle C)",
                        shown, meant);
    } else if (text[0] >= 'A' && text[0] <= 'G' && text[1] == '\0') {
        hbk_value_fault(asked, HBK_H_NOT_A_NOTE,
                        "'%s' lacks its octave; write it without blanks, as "
                        "in %s4 or %s#4 (C4 is middle C)",
                        shown, shown, shown);
    } else if (text[0] == 'H' || text[0] == 'h') {
        hbk_value_fault(asked, HBK_H_NOT_A_NOTE,
                        "'%s' is not a note; H is written B, and B flat Bb, "
                        "as in B4, Bb3",
                        shown);
    } else {
        hbk_value_fault(asked, HBK_H_NOT_A_NOTE,
                        "'%s' is not a note; write a letter from A to G, # or "
                        "b if it has one, and the octave, as in C4, F#4, Bb3",
                        shown);
    }
    return false;
}
