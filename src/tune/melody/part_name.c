#include "tune/melody/part_name.h"

#include <string.h>

enum { WORDS_MAX = 12, WORD_SIZE = 24 };

/* The words of a name, in small letters; what is between them is left out. */
struct words {
    size_t n;
    char of[WORDS_MAX][WORD_SIZE];
};

static bool is_plain(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') ||
           (unsigned char)c >= 0x80;
}

static void add_word(struct words *words, const char *text, size_t length)
{
    if (length > 0 && length < WORD_SIZE && words->n < WORDS_MAX) {
        memcpy(words->of[words->n], text, length);
        words->of[words->n++][length] = '\0';
    }
}

/* What a flat or sharp sign is called, and how many bytes it has. */
static const char *sign_at(const char *at, size_t *used)
{
    static const struct {
        const char *sign, *word;
    } signs[] = {{"\u266D", "flat"}, {"\u266F", "sharp"}, {"#", "sharp"}};
    for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
        *used = strlen(signs[i].sign);
        if (strncmp(at, signs[i].sign, *used) == 0) {
            return signs[i].word;
        }
    }
    return NULL;
}

/* "Bb" and "Eb" are two words, the note and flat. */
static void end_word(struct words *words, const char *text, size_t length)
{
    const bool is_flat =
        length == 2 && text[1] == 'b' && text[0] >= 'a' && text[0] <= 'g';
    add_word(words, text, is_flat ? 1 : length);
    if (is_flat) {
        add_word(words, "flat", 4);
    }
}

static struct words words_of(const char *name)
{
    struct words words = {.n = 0};
    char word[WORD_SIZE];
    size_t length = 0;
    const char *at = name;
    while (*at != '\0') {
        size_t used = 1;
        const char *const sign = sign_at(at, &used);
        const char c = *at >= 'A' && *at <= 'Z' ? (char)(*at - 'A' + 'a') : *at;
        used = sign == NULL ? 1 : used;
        if (sign == NULL && is_plain(c)) {
            length += length < WORD_SIZE ? 1 : 0;
            word[length - 1] = c;
        } else {
            end_word(&words, word, length);
            length = 0;
        }
        if (sign != NULL) {
            add_word(&words, sign, strlen(sign));
        }
        at += used;
    }
    end_word(&words, word, length);
    return words;
}

static bool has_word(const struct words *words, const char *word)
{
    for (size_t i = 0; i < words->n; i++) {
        if (strcmp(words->of[i], word) == 0) {
            return true;
        }
    }
    return false;
}

/* Whether a word names an instrument rather than its key. */
static bool is_name(const char *word)
{
    return strlen(word) > 2 && strcmp(word, "flat") != 0 &&
           strcmp(word, "sharp") != 0 && strcmp(word, "the") != 0;
}

/* How many words a part has, all of them the horn's; 0 where they are not. */
static size_t shared(const struct words *part, const struct words *horn)
{
    bool names_it = false;
    for (size_t i = 0; i < part->n; i++) {
        if (strcmp(part->of[i], "in") != 0 && !has_word(horn, part->of[i])) {
            return 0;
        }
        names_it = names_it || is_name(part->of[i]);
    }
    return names_it ? part->n : 0;
}

static bool is_same(const struct words *a, const struct words *b)
{
    size_t i = 0;
    while (i < a->n && i < b->n && strcmp(a->of[i], b->of[i]) == 0) {
        i++;
    }
    return a->n > 0 && i == a->n && i == b->n;
}

size_t hbk_part_by_name(const struct hbk_tune_options *options,
                        const char *const names[], size_t n)
{
    size_t found = n;
    size_t most = 0;
    if (options == NULL) {
        return n;
    }
    const struct words player =
        words_of(options->player == NULL ? "" : options->player);
    const struct words horn =
        words_of(options->horn == NULL ? "" : options->horn);
    for (size_t i = 0; i < n; i++) {
        const struct words part = words_of(names[i]);
        const size_t rank =
            is_same(&part, &player) ? WORDS_MAX + 1 : shared(&part, &horn);
        if (rank > most) {
            most = rank;
            found = i;
        } else if (rank == most) {
            found = n;
        }
    }
    return most == 0 ? n : found;
}
