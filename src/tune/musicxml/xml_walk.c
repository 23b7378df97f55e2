#include "tune/musicxml/xml_walk.h"

#include <string.h>

struct hbk_xml_walk hbk_xml_walk_begin(const char *bytes, size_t length)
{
    struct hbk_xml_walk walk = {.bytes = (const unsigned char *)bytes,
                                .length = length,
                                .unit = 1,
                                .line = 1};
    if (length < 4) {
        return walk;
    }
    const bool is_big = memcmp(bytes, "\xFE\xFF", 2) == 0;
    const bool is_little = memcmp(bytes, "\xFF\xFE", 2) == 0;
    if (is_big || is_little || memcmp(bytes, "<\0", 2) == 0) {
        walk.unit = 2;
        walk.low = is_big ? 1 : 0;
        walk.at = is_big || is_little ? 2 : 0;
    } else if (memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
        walk.at = 3;
    }
    return walk;
}

int hbk_xml_walk_peek(const struct hbk_xml_walk *walk, size_t ahead)
{
    const size_t at = walk->at + (ahead * walk->unit);
    if (at + walk->unit > walk->length) {
        return HBK_XML_WALK_END;
    }
    if (walk->unit == 1) {
        return walk->bytes[at];
    }
    const bool is_small = walk->bytes[at + 1 - walk->low] == 0;
    return is_small ? walk->bytes[at + walk->low] : HBK_XML_WALK_OTHER;
}

int hbk_xml_walk_next(struct hbk_xml_walk *walk)
{
    const int c = hbk_xml_walk_peek(walk, 0);
    if (c != HBK_XML_WALK_END) {
        walk->at += walk->unit;
        walk->line += c == '\n';
        walk->has_nul = walk->has_nul || c == 0;
    }
    return c;
}

bool hbk_xml_walk_starts(const struct hbk_xml_walk *walk, const char *text)
{
    for (size_t i = 0; text[i] != '\0'; i++) {
        if (hbk_xml_walk_peek(walk, i) != (unsigned char)text[i]) {
            return false;
        }
    }
    return true;
}

void hbk_xml_walk_skip_over(struct hbk_xml_walk *walk, const char *text)
{
    while (hbk_xml_walk_peek(walk, 0) != HBK_XML_WALK_END &&
           !hbk_xml_walk_starts(walk, text)) {
        (void)hbk_xml_walk_next(walk);
    }
    for (size_t i = 0; text[i] != '\0'; i++) {
        (void)hbk_xml_walk_next(walk);
    }
}

size_t hbk_xml_walk_skip_to(struct hbk_xml_walk *walk, int one, int other)
{
    size_t signs = 0;
    int quote = 0;
    for (int c = hbk_xml_walk_peek(walk, 0); c != HBK_XML_WALK_END;
         c = hbk_xml_walk_peek(walk, 0)) {
        if (quote == 0 && (c == one || c == other)) {
            break;
        }
        if (quote == 0 && (c == '"' || c == '\'')) {
            quote = c;
        } else if (c == quote) {
            quote = 0;
        }
        signs += quote == 0 && c == '=';
        (void)hbk_xml_walk_next(walk);
    }
    return signs;
}
