#include "tune/melody/sign_words.h"

#include "tune/melody/bar.h"

#include <stddef.h>
#include <stdio.h>
#include <string.h>

enum { TOKENS_MAX = 14, TOKEN_SIZE = 16, WORDS_BYTES_MAX = 80 };

/* The words one by one, in small letters. */
struct token {
    char text[TOKEN_SIZE];
    bool after_dot; /* a dot stands between it and the one before */
};

struct tokens {
    size_t n;
    struct token items[TOKENS_MAX];
};

/* Signs that stand for a word. */
static const struct {
    const char *sign, *word;
} signs[] = {
    {"\xF0\x9D\x84\x8B", "segno"}, /* U+1D10B */
    {"\xF0\x9D\x84\x8C", "coda"},  /* U+1D10C */
    {"\xEE\x81\x87", "segno"},     /* U+E047, as fonts of music have it */
    {"\xEE\x81\x88", "coda"},      /* U+E048 */
    {"\xE2\x8A\x95", "coda"},      /* U+2295, a cross in a ring */
    {"\xC3\x98", "coda"},          /* U+00D8, the letter like it */
    {"\xC2\xA7", "segno"},         /* U+00A7, the sign of sections */
    {"%", "segno"},
    {"&", "and"},
    {"\xC3\xA0", "a"}, /* a with grave accent */
};

static bool is_word(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
           (c >= '0' && c <= '9') || (unsigned char)c >= 0x80;
}

/* The sign at `at`, or SIZE_MAX. */
static size_t sign_at(const char *at)
{
    for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
        if (strncmp(at, signs[i].sign, strlen(signs[i].sign)) == 0) {
            return i;
        }
    }
    return SIZE_MAX;
}

/* Adds a word; false when there are too many for an instruction. */
static bool add_token(struct tokens *tokens, const char *from, size_t n,
                      bool after_dot)
{
    if (tokens->n == TOKENS_MAX) {
        return false;
    }
    struct token *const token = &tokens->items[tokens->n++];
    token->after_dot = after_dot;
    n = n < TOKEN_SIZE - 1 ? n : TOKEN_SIZE - 1;
    for (size_t i = 0; i < n; i++) {
        const char c = from[i];
        token->text[i] = c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
    }
    token->text[n] = '\0';
    return true;
}

static bool part_words(const char *words, struct tokens *tokens)
{
    bool dot = false;
    for (const char *at = words; *at != '\0';) {
        const size_t sign = sign_at(at);
        size_t n = 0;
        if (sign != SIZE_MAX) {
            if (!add_token(tokens, signs[sign].word, strlen(signs[sign].word),
                           dot)) {
                return false;
            }
            n = strlen(signs[sign].sign);
            dot = false;
        } else if (is_word(*at)) {
            while (is_word(at[n]) && (n == 0 || sign_at(at + n) == SIZE_MAX)) {
                n++;
            }
            if (!add_token(tokens, at, n, dot)) {
                return false;
            }
            dot = false;
        } else {
            dot = dot || *at == '.';
            n = 1;
        }
        at += n;
    }
    return true;
}

static const char *word(const struct tokens *tokens, size_t i)
{
    return i < tokens->n ? tokens->items[i].text : "";
}

static bool is(const struct tokens *tokens, size_t i, const char *text)
{
    return strcmp(word(tokens, i), text) == 0;
}

/* Whether a word stands in a list "one two three". */
static bool is_among(const char *text, const char *list)
{
    const size_t n = strlen(text);
    for (const char *at = list; n > 0 && *at != '\0';) {
        const size_t length = strcspn(at, " ");
        if (length == n && memcmp(at, text, n) == 0) {
            return true;
        }
        at += length + strspn(at + length, " ");
    }
    return false;
}

/* Single letters with dots between them: D.C. */
static bool are_letters(const struct tokens *tokens, size_t i, const char *text)
{
    for (size_t k = 0; text[k] != '\0'; k++) {
        const char *const letter = word(tokens, i + k);
        if (letter[0] != text[k] || letter[1] != '\0' ||
            (k > 0 && !tokens->items[i + k].after_dot)) {
            return false;
        }
    }
    return true;
}

/* D.C. or D.S. at word i, and of how many words; 0 for neither. */
static unsigned lead_at(const struct tokens *tokens, size_t i, size_t *used)
{
    *used = 1;
    if (is_among(word(tokens, i), "dc dacapo")) {
        return HBK_SIGN_DA_CAPO;
    }
    if (is_among(word(tokens, i), "ds dss dalsegno")) {
        return HBK_SIGN_DAL_SEGNO;
    }
    *used = 2;
    if (are_letters(tokens, i, "dc") ||
        (is(tokens, i, "da") && is(tokens, i + 1, "capo"))) {
        return HBK_SIGN_DA_CAPO;
    }
    const bool names_sign =
        is(tokens, i + 1, "segno") || is(tokens, i + 1, "sign");
    if (names_sign && is_among(word(tokens, i), "dal dall del d from")) {
        return HBK_SIGN_DAL_SEGNO;
    }
    if (are_letters(tokens, i, "dss")) {
        *used = 3;
        return HBK_SIGN_DAL_SEGNO;
    }
    return are_letters(tokens, i, "ds") ? HBK_SIGN_DAL_SEGNO : 0;
}

static bool begins(const char *text, const char *with)
{
    return strncmp(text, with, strlen(with)) == 0;
}

static bool is_of_repeats(const char *text)
{
    return begins(text, "repet") || begins(text, "ripet") ||
           begins(text, "repeat") || begins(text, "replica") ||
           begins(text, "repris") || begins(text, "wiederh") ||
           is_among(text, "rep wdh");
}

/* Ends, in the languages that parts come in. */
static unsigned end_named(const char *text)
{
    return is_among(text, "fine fin end ende finis alfine") ? HBK_SIGN_AL_FINE
           : is_among(text, "coda alcoda tocoda")           ? HBK_SIGN_AL_CODA
           : is_among(text, "segno sign alsegno")           ? HBK_SIGN_AL_SEGNO
                                                            : 0;
}

/* What follows D.C. or D.S.: to where, and with repeats or without. */
static unsigned tail_from(const struct tokens *tokens, size_t from,
                          bool *understood)
{
    static const char between[] =
        "al a alla la all ai to the until till up bis zum zur zu e ed und and "
        "then poi dann et puis sin sino fino ma but go play with con mit avec "
        "tutte le les alle die w 1 2 i ii";
    unsigned bits = 0;
    bool negated = false;
    for (size_t i = from; i < tokens->n; i++) {
        const char *const text = word(tokens, i);
        const unsigned end = end_named(text);
        if (is_among(text, "senza sans without no ohne not") ||
            (is(tokens, i, "o") && i > 0 && is(tokens, i - 1, "w"))) {
            negated = true;
        } else if (is_of_repeats(text)) {
            bits |= negated ? HBK_SIGN_NO_REPEATS : HBK_SIGN_WITH_REPEATS;
        } else if (end != 0) {
            bits |= end;
        } else if (!is_among(text, between)) {
            *understood = false;
        }
    }
    return bits;
}

/* What stands alone: a place to go to, to leave from or to end at. */
static unsigned place_named(const struct tokens *tokens)
{
    const char *const first = word(tokens, 0);
    size_t at = is_among(first, "go") ? 1 : 0;
    if (is_among(first, "fine fin finis") &&
        (tokens->n == 1 || is_among(word(tokens, 1), "last ultima 2nd"))) {
        return HBK_SIGN_FINE;
    }
    if (is_among(first, "tocoda dacoda") ||
        (tokens->n == 1 && is(tokens, 0, "to"))) {
        return HBK_SIGN_TO_CODA;
    }
    if (is_among(word(tokens, at), "to da zur")) {
        at += is(tokens, at + 1, "the") ? 2 : 1;
        return is(tokens, at, "coda") ? HBK_SIGN_TO_CODA : 0;
    }
    if (is_among(first, "al alla till until bis") && tokens->n == 2) {
        return end_named(word(tokens, 1)) & ~(unsigned)HBK_SIGN_AL_SEGNO;
    }
    if (is_among(first, "alfine alcoda") && tokens->n == 1) {
        return end_named(first);
    }
    if (is(tokens, 0, "coda") && tokens->n <= 3) {
        return HBK_SIGN_CODA;
    }
    return is(tokens, 0, "segno") && tokens->n <= 2 ? HBK_SIGN_SEGNO : 0;
}

unsigned hbk_sign_words(const char *words, bool *understood)
{
    enum { BEFORE_MAX = 2 };
    struct tokens tokens = {.n = 0};
    bool all = true;
    unsigned bits = 0;
    if (strlen(words) > WORDS_BYTES_MAX || !part_words(words, &tokens)) {
        return 0;
    }
    for (size_t i = 0; i < tokens.n && i <= BEFORE_MAX && bits == 0; i++) {
        size_t used = 0;
        if (is_among(word(&tokens, i), "senza sans without no ohne not")) {
            break; /* "senza D.C." */
        }
        bits = lead_at(&tokens, i, &used);
        if (bits != 0) {
            bits |= tail_from(&tokens, i + used, &all);
        }
    }
    if (bits == 0) {
        bits = place_named(&tokens);
    }
    if (understood != NULL) {
        *understood = all;
    }
    return bits;
}

char *hbk_sign_text(unsigned bits, char text[HBK_SIGN_TEXT])
{
    const bool to_segno = (bits & HBK_SIGN_AL_SEGNO) != 0;
    const bool to_coda = (bits & HBK_SIGN_AL_CODA) != 0;
    (void)snprintf(text, HBK_SIGN_TEXT, "%s%s%s%s%s",
                   (bits & HBK_SIGN_DAL_SEGNO) != 0 ? "D.S." : "D.C.",
                   to_segno ? " al Segno" : "",
                   (bits & HBK_SIGN_AL_FINE) != 0 ? " al Fine" : "",
                   !to_coda   ? ""
                   : to_segno ? " e poi la Coda"
                              : " al Coda",
                   (bits & HBK_SIGN_WITH_REPEATS) != 0 ? " with repeats" : "");
    return text;
}
