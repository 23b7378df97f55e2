#include "base/text.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

void hbk_text_put(struct hbk_text *text, const char *bytes, size_t length)
{
    text->bytes = hbk_arena_grow(text->arena, text->bytes, text->length,
                                 length + 1, &text->capacity, 1);
    if (length > 0) {
        memcpy(text->bytes + text->length, bytes, length);
    }
    text->length += length;
    text->bytes[text->length] = '\0';
}

void hbk_text_add(struct hbk_text *text, const char *string)
{
    hbk_text_put(text, string, strlen(string));
}

void hbk_text_addf(struct hbk_text *text, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    va_list again;
    va_copy(again, args);
    const int length = vsnprintf(NULL, 0, fmt, args);
    va_end(args);
    char small[256];
    const size_t size = length < 0 ? 1 : (size_t)length + 1;
    char *const formatted =
        size <= sizeof(small) ? small : hbk_arena_zalloc(text->arena, size, 1);
    (void)vsnprintf(formatted, size, fmt, again);
    va_end(again);
    hbk_text_put(text, formatted, size - 1);
}

/* Length of the UTF-8 sequence at `s`, 0 if it is malformed (RFC 3629). */
static size_t sequence_length(const unsigned char *s, size_t room)
{
    static const struct {
        unsigned char low, high, second_low, second_high;
        size_t length;
    } forms[] = {
        {0x01, 0x7F, 0, 0, 1},       {0xC2, 0xDF, 0x80, 0xBF, 2},
        {0xE0, 0xE0, 0xA0, 0xBF, 3}, {0xE1, 0xEC, 0x80, 0xBF, 3},
        {0xED, 0xED, 0x80, 0x9F, 3}, {0xEE, 0xEF, 0x80, 0xBF, 3},
        {0xF0, 0xF0, 0x90, 0xBF, 4}, {0xF1, 0xF3, 0x80, 0xBF, 4},
        {0xF4, 0xF4, 0x80, 0x8F, 4},
    };
    for (size_t i = 0; i < sizeof(forms) / sizeof(forms[0]); i++) {
        if (s[0] < forms[i].low || s[0] > forms[i].high) {
            continue;
        }
        const size_t length = forms[i].length;
        if (length > room || (length > 1 && (s[1] < forms[i].second_low ||
                                             s[1] > forms[i].second_high))) {
            return 0;
        }
        for (size_t k = 2; k < length; k++) {
            if ((s[k] & 0xC0U) != 0x80U) {
                return 0;
            }
        }
        return length;
    }
    return 0;
}

/* One character from `at`, or a stand-in where XML has none; what follows. */
static const char *add_character(struct hbk_text *text, const char *at)
{
    enum { LONGEST = 4 };
    const size_t n = sequence_length((const unsigned char *)at, LONGEST);
    const bool is_none = n == 3 && memcmp(at, "\xEF\xBF", 2) == 0 &&
                         (unsigned char)at[2] >= 0xBE; /* U+FFFE, U+FFFF */
    if (n == 0 || is_none) {
        hbk_text_add(text, "\xEF\xBF\xBD");
        return at + (n == 0 ? 1 : n);
    }
    hbk_text_put(text, (unsigned char)*at < 0x20 ? " " : at, n);
    return at + n;
}

void hbk_text_add_xml(struct hbk_text *text, const char *string)
{
    for (const char *c = string; *c != '\0';) {
        switch (*c) {
        case '&':
            hbk_text_add(text, "&amp;");
            c++;
            break;
        case '<':
            hbk_text_add(text, "&lt;");
            c++;
            break;
        case '>':
            hbk_text_add(text, "&gt;");
            c++;
            break;
        case '"':
            hbk_text_add(text, "&quot;");
            c++;
            break;
        default:
            c = add_character(text, c);
            break;
        }
    }
}

void hbk_text_add_csv(struct hbk_text *text, const char *field)
{
    if (field[strcspn(field, "\",\r\n")] == '\0') {
        hbk_text_add(text, field);
        return;
    }
    hbk_text_add(text, "\"");
    for (const char *at = field; *at != '\0'; at++) {
        hbk_text_put(text, "\"\"", *at == '"' ? 1 : 0);
        hbk_text_put(text, at, 1);
    }
    hbk_text_add(text, "\"");
}

const char *hbk_text_string(const struct hbk_text *text)
{
    return text->bytes == NULL ? "" : text->bytes;
}

size_t hbk_text_columns(const char *utf8)
{
    size_t columns = 0;
    for (const char *c = utf8; *c != '\0'; c++) {
        columns +=
            ((unsigned char)*c & 0xC0U) != 0x80U && (unsigned char)*c >= 0x20U;
    }
    return columns;
}

bool hbk_text_has_control(const char *text)
{
    for (const char *c = text; *c != '\0'; c++) {
        const unsigned char *const u = (const unsigned char *)c;
        const bool turns =
            u[0] == 0xE2 && ((u[1] == 0x80 && u[2] >= 0xAA && u[2] <= 0xAE) ||
                             (u[1] == 0x81 && u[2] >= 0xA6 && u[2] <= 0xA9));
        if (u[0] < ' ' || u[0] == 0x7F || turns) {
            return true;
        }
    }
    return false;
}

bool hbk_text_is_utf8(const char *bytes, size_t length)
{
    const unsigned char *const s = (const unsigned char *)bytes;
    size_t i = 0;
    while (i < length) {
        const size_t step = sequence_length(s + i, length - i);
        if (step == 0) {
            return false;
        }
        i += step;
    }
    return true;
}

enum { WORD_MAX = 40 };

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* Levenshtein's distance; words longer than WORD_MAX count as far apart. */
static size_t edit_distance(const char *a, const char *b)
{
    const size_t n = strlen(b);
    if (strlen(a) > WORD_MAX || n > WORD_MAX) {
        return SIZE_MAX;
    }
    size_t row[WORD_MAX + 1];
    for (size_t j = 0; j <= n; j++) {
        row[j] = j;
    }
    for (size_t i = 0; a[i] != '\0'; i++) {
        size_t diagonal = row[0];
        row[0] = i + 1;
        for (size_t j = 0; j < n; j++) {
            const size_t changed = diagonal + (a[i] == b[j] ? 0 : 1);
            diagonal = row[j + 1];
            row[j + 1] = least(changed, least(row[j], row[j + 1]) + 1);
        }
    }
    return row[n];
}

const char *hbk_text_nearest(const char *word, const char *const known[],
                             size_t n)
{
    const char *nearest = NULL;
    size_t limit = (strlen(word) / 3) + 1;
    for (size_t i = 0; i < n; i++) {
        const size_t distance = edit_distance(word, known[i]);
        if (distance <= limit) {
            nearest = known[i];
            limit = distance == 0 ? 0 : distance - 1;
            if (distance == 0) {
                break;
            }
        }
    }
    return nearest;
}
