#include "tune/musicxml/xml_look.h"

#include "tune/musicxml/xml_walk.h"

#include <string.h>

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
static bool check_encoding(const struct hbk_xml_walk *walk)
{
    enum { DECLARATION_MAX = 400 };
    char text[DECLARATION_MAX + 1] = "";
    if (!hbk_xml_walk_starts(walk, "<?xml")) {
        return true;
    }
    for (size_t i = 0; i < DECLARATION_MAX; i++) {
        const int c = hbk_xml_walk_peek(walk, i);
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
    return name[0] != '\0' && is_known_encoding(name + 1, walk->unit == 2);
}

/* After a < : what follows, up to its end. */
static enum hbk_xml_look look_at_markup(struct hbk_xml_walk *walk)
{
    if (hbk_xml_walk_starts(walk, "!--")) {
        walk->at += 3 * walk->unit;
        hbk_xml_walk_skip_over(walk, "-->");
    } else if (hbk_xml_walk_starts(walk, "![CDATA[")) {
        hbk_xml_walk_skip_over(walk, "]]>");
    } else if (hbk_xml_walk_starts(walk, "?")) {
        hbk_xml_walk_skip_over(walk, "?>");
    } else if (hbk_xml_walk_starts(walk, "!DOCTYPE")) {
        (void)hbk_xml_walk_skip_to(walk, '>', '[');
    } else if (hbk_xml_walk_starts(walk, "!")) {
        return HBK_XML_DECLARES;
    } else if (hbk_xml_walk_skip_to(walk, '>', '>') > HBK_XML_ATTRIBUTES_MAX) {
        return HBK_XML_CROWDED;
    }
    return HBK_XML_LOOKS_GOOD;
}

enum hbk_xml_look hbk_xml_look_over(const char *bytes, size_t length,
                                    unsigned *line)
{
    struct hbk_xml_walk walk = hbk_xml_walk_begin(bytes, length);
    *line = 1;
    if (!check_encoding(&walk)) {
        return HBK_XML_ENCODING;
    }
    int c = hbk_xml_walk_next(&walk);
    while (c != HBK_XML_WALK_END) {
        *line = walk.line;
        if (c == '<') {
            const enum hbk_xml_look result = look_at_markup(&walk);
            if (result != HBK_XML_LOOKS_GOOD) {
                return result;
            }
        }
        if (walk.has_nul) {
            return HBK_XML_NOT_TEXT;
        }
        c = hbk_xml_walk_next(&walk);
    }
    return HBK_XML_LOOKS_GOOD;
}
