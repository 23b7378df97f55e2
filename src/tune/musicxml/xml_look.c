#include "tune/musicxml/xml_look.h"

#include <string.h>

enum { END = -1, OTHER = 0x100 };

struct look {
    const unsigned char *bytes;
    size_t length, at;
    size_t unit; /* bytes of a character: 1, or 2 for UTF-16 */
    size_t low;  /* which of the two is the low one */
    unsigned line;
    bool has_nul;
};

/* The next character if it is below 0x100, else OTHER; END after the last. */
static int peek(const struct look *look, size_t ahead)
{
    const size_t at = look->at + (ahead * look->unit);
    if (at + look->unit > look->length) {
        return END;
    }
    if (look->unit == 1) {
        return look->bytes[at];
    }
    const bool is_small = look->bytes[at + 1 - look->low] == 0;
    return is_small ? look->bytes[at + look->low] : OTHER;
}

static int next(struct look *look)
{
    const int c = peek(look, 0);
    if (c != END) {
        look->at += look->unit;
        look->line += c == '\n';
        look->has_nul = look->has_nul || c == 0;
    }
    return c;
}

static bool starts(const struct look *look, const char *text)
{
    for (size_t i = 0; text[i] != '\0'; i++) {
        if (peek(look, i) != (unsigned char)text[i]) {
            return false;
        }
    }
    return true;
}

static void skip_over(struct look *look, const char *text)
{
    while (peek(look, 0) != END && !starts(look, text)) {
        (void)next(look);
    }
    for (size_t i = 0; text[i] != '\0'; i++) {
        (void)next(look);
    }
}

/* To one of the two characters, outside quotes; counts the = on the way. */
static size_t skip_to(struct look *look, int one, int other)
{
    size_t signs = 0;
    int quote = 0;
    for (int c = peek(look, 0); c != END; c = peek(look, 0)) {
        if (quote == 0 && (c == one || c == other)) {
            break;
        }
        if (quote == 0 && (c == '"' || c == '\'')) {
            quote = c;
        } else if (c == quote) {
            quote = 0;
        }
        signs += quote == 0 && c == '=';
        (void)next(look);
    }
    return signs;
}

/* Names an encoding whose markup is plain to see here. */
static bool is_known_encoding(const char *name, bool is_wide)
{
    static const char *const narrow[] = {"utf-8",     "utf8",        "us-ascii",
                                         "iso-8859-", "windows-125", "latin1"};
    if (is_wide) {
        return strncmp(name, "utf-16", 6) == 0;
    }
    for (size_t i = 0; i < sizeof(narrow) / sizeof(narrow[0]); i++) {
        if (strncmp(name, narrow[i], strlen(narrow[i])) == 0) {
            return true;
        }
    }
    return false;
}

/* The XML declaration, if there is one: is its encoding known? */
static bool check_encoding(const struct look *look)
{
    enum { DECLARATION_MAX = 400 };
    char text[DECLARATION_MAX + 1] = "";
    if (!starts(look, "<?xml")) {
        return true;
    }
    for (size_t i = 0; i < DECLARATION_MAX; i++) {
        const int c = peek(look, i);
        if (c <= 0 || c == '>') {
            break;
        }
        text[i] = (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c & 0x7F);
    }
    const char *const key = strstr(text, "encoding");
    if (key == NULL) {
        return true;
    }
    const char *const name = key + strcspn(key, "\"'");
    return name[0] != '\0' && is_known_encoding(name + 1, look->unit == 2);
}

static struct look begin(const char *bytes, size_t length)
{
    struct look look = {.bytes = (const unsigned char *)bytes,
                        .length = length,
                        .unit = 1,
                        .line = 1};
    if (length < 4) {
        return look;
    }
    const bool is_big = memcmp(bytes, "\xFE\xFF", 2) == 0;
    const bool is_little = memcmp(bytes, "\xFF\xFE", 2) == 0;
    if (is_big || is_little || memcmp(bytes, "<\0", 2) == 0) {
        look.unit = 2;
        look.low = is_big ? 1 : 0;
        look.at = is_big || is_little ? 2 : 0;
    } else if (memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
        look.at = 3;
    }
    return look;
}

/* After a < : what follows, up to its end. */
static enum hbk_xml_look look_at_markup(struct look *look)
{
    if (starts(look, "!--")) {
        look->at += 3 * look->unit;
        skip_over(look, "-->");
    } else if (starts(look, "![CDATA[")) {
        skip_over(look, "]]>");
    } else if (starts(look, "?")) {
        skip_over(look, "?>");
    } else if (starts(look, "!DOCTYPE")) {
        (void)skip_to(look, '>', '[');
    } else if (starts(look, "!")) {
        return HBK_XML_DECLARES;
    } else if (skip_to(look, '>', '>') > HBK_XML_ATTRIBUTES_MAX) {
        return HBK_XML_CROWDED;
    }
    return HBK_XML_LOOKS_GOOD;
}

enum hbk_xml_look hbk_xml_look_over(const char *bytes, size_t length,
                                    unsigned *line)
{
    struct look look = begin(bytes, length);
    *line = 1;
    if (!check_encoding(&look)) {
        return HBK_XML_ENCODING;
    }
    int c = next(&look);
    while (c != END) {
        *line = look.line;
        if (c == '<') {
            const enum hbk_xml_look result = look_at_markup(&look);
            if (result != HBK_XML_LOOKS_GOOD) {
                return result;
            }
        }
        if (look.has_nul) {
            return HBK_XML_NOT_TEXT;
        }
        c = next(&look);
    }
    return HBK_XML_LOOKS_GOOD;
}
