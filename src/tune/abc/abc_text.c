#include "tune/abc/abc_text.h"

#include "base/text.h"

#include <string.h>

const char *hbk_abc_skip_spaces(const char *text)
{
    return text + strspn(text, " \t");
}

bool hbk_abc_is_letter(char c)
{
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}

/* Accents as ABC writes them, \'e, and as HTML names them, &eacute;. */
static const struct {
    char sign;
    const char *name;
    const char *letters;
    unsigned short codes[12];
} accents[] = {
    {'`',
     "grave",
     "AEIOUaeiou",
     {0xC0, 0xC8, 0xCC, 0xD2, 0xD9, 0xE0, 0xE8, 0xEC, 0xF2, 0xF9}},
    {'\'',
     "acute",
     "AEIOUYaeiouy",
     {0xC1, 0xC9, 0xCD, 0xD3, 0xDA, 0xDD, 0xE1, 0xE9, 0xED, 0xF3, 0xFA, 0xFD}},
    {'^',
     "circ",
     "AEIOUaeiou",
     {0xC2, 0xCA, 0xCE, 0xD4, 0xDB, 0xE2, 0xEA, 0xEE, 0xF4, 0xFB}},
    {'~', "tilde", "ANOano", {0xC3, 0xD1, 0xD5, 0xE3, 0xF1, 0xF5}},
    {'"',
     "uml",
     "AEIOUaeiouy",
     {0xC4, 0xCB, 0xCF, 0xD6, 0xDC, 0xE4, 0xEB, 0xEF, 0xF6, 0xFC, 0xFF}},
    {'c', "cedil", "Cc", {0xC7, 0xE7}},
    {'/', "slash", "Oo", {0xD8, 0xF8}},
    {'u', "breve", "Aa", {0x102, 0x103}},
    {'v', "caron", "CcSsZz", {0x10C, 0x10D, 0x160, 0x161, 0x17D, 0x17E}},
};

static const struct {
    const char *written;
    unsigned code;
} others[] = {
    {"\\AA", 0xC5},    {"\\aa", 0xE5},    {"\\AE", 0xC6},    {"\\ae", 0xE6},
    {"\\ss", 0xDF},    {"&Aring;", 0xC5}, {"&aring;", 0xE5}, {"&AElig;", 0xC6},
    {"&aelig;", 0xE6}, {"&szlig;", 0xDF}, {"&quot;", '"'},   {"&amp;", '&'},
    {"&lt;", '<'},     {"&gt;", '>'},     {"&copy;", 0xA9},  {"&nbsp;", 0xA0},
};

static void put_code(struct hbk_text *out, unsigned code)
{
    char utf8[4];
    size_t n = 0;
    if (code < 0x80) {
        utf8[n++] = (char)code;
    } else if (code < 0x800) {
        utf8[n++] = (char)(0xC0 | (code >> 6));
        utf8[n++] = (char)(0x80 | (code & 0x3F));
    } else if (code < 0x10000) {
        utf8[n++] = (char)(0xE0 | (code >> 12));
        utf8[n++] = (char)(0x80 | ((code >> 6) & 0x3F));
        utf8[n++] = (char)(0x80 | (code & 0x3F));
    } else {
        utf8[n++] = (char)(0xF0 | (code >> 18));
        utf8[n++] = (char)(0x80 | ((code >> 12) & 0x3F));
        utf8[n++] = (char)(0x80 | ((code >> 6) & 0x3F));
        utf8[n++] = (char)(0x80 | (code & 0x3F));
    }
    hbk_text_put(out, utf8, n);
}

static int hex_of(char c)
{
    static const char digits[] = "0123456789abcdef";
    const char lower = c >= 'A' && c <= 'F' ? (char)(c - 'A' + 'a') : c;
    const char *const at = lower == '\0' ? NULL : strchr(digits, lower);
    return at == NULL ? -1 : (int)(at - digits);
}

/* \u and four digits, or \U and eight. The text ends with a NUL. */
static size_t hex_escape(const char *text, unsigned *code)
{
    const size_t digits = text[1] == 'u' ? 4 : text[1] == 'U' ? 8 : 0;
    unsigned value = 0;
    for (size_t i = 0; i < digits; i++) {
        const int digit = hex_of(text[2 + i]);
        if (digit < 0 || value > 0x10FFFF) {
            return 0;
        }
        value = (16 * value) + (unsigned)digit;
    }
    const bool is_surrogate = value >= 0xD800 && value <= 0xDFFF;
    if (digits == 0 || value < 0x20 || value > 0x10FFFF || is_surrogate) {
        return 0;
    }
    *code = value;
    return 2 + digits;
}

static size_t accent(const char *text, unsigned *code)
{
    for (size_t i = 0; i < sizeof(accents) / sizeof(accents[0]); i++) {
        const bool by_sign = text[0] == '\\' && text[1] == accents[i].sign;
        const size_t n = strlen(accents[i].name);
        const bool by_name = text[0] == '&' && text[1] != '\0' &&
                             strncmp(text + 2, accents[i].name, n) == 0 &&
                             text[2 + n] == ';';
        const char letter = by_sign ? text[2] : by_name ? text[1] : '\0';
        const char *const at =
            letter == '\0' ? NULL : strchr(accents[i].letters, letter);
        if (at != NULL) {
            *code = accents[i].codes[at - accents[i].letters];
            return by_sign ? 3 : 3 + n;
        }
    }
    for (size_t i = 0; i < sizeof(others) / sizeof(others[0]); i++) {
        const size_t n = strlen(others[i].written);
        if (strncmp(text, others[i].written, n) == 0) {
            *code = others[i].code;
            return n;
        }
    }
    return 0;
}

static bool is_plain(const char *text)
{
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '\\' || *c == '&' || (unsigned char)*c < 0x20) {
            return false;
        }
    }
    return true;
}

const char *hbk_abc_text(struct hbk_arena *arena, const char *bytes,
                         size_t length)
{
    const char *const text = hbk_arena_copy(arena, bytes, length);
    const bool is_utf8 = hbk_text_is_utf8(text, length);
    if (is_utf8 && is_plain(text)) {
        return text;
    }
    struct hbk_text out = {.arena = arena};
    size_t i = 0;
    while (i < length) {
        unsigned code = 0;
        size_t used = 0;
        if (text[i] == '\\' || text[i] == '&') {
            used = hex_escape(text + i, &code);
            used = used > 0 ? used : accent(text + i, &code);
        }
        if (used == 0 && text[i] == '\\' && i + 1 < length &&
            strchr("\\%&\"$", text[i + 1]) != NULL) {
            code = (unsigned char)text[i + 1];
            used = 2;
        }
        if (used > 0) {
            put_code(&out, code);
            i += used;
            continue;
        }
        const unsigned char byte = (unsigned char)text[i++];
        if (byte >= 0x80 && !is_utf8) {
            put_code(&out, byte); /* Latin-1, the charset of old files */
        } else if (byte >= 0x20) {
            hbk_text_put(&out, text + i - 1, 1);
        }
    }
    return hbk_text_string(&out);
}
