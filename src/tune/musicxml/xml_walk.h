#ifndef HBK_TUNE_MUSICXML_XML_WALK_H
#define HBK_TUNE_MUSICXML_XML_WALK_H

#include <stdbool.h>
#include <stddef.h>

enum { HBK_XML_WALK_END = -1, HBK_XML_WALK_OTHER = 0x100 };

/*
 * The characters of an XML file, one after the other, as far as its markup is
 * made of them: UTF-8 and its relatives a byte at a time, UTF-16 in twos.
 */
struct hbk_xml_walk {
    const unsigned char *bytes;
    size_t length, at;
    size_t unit; /* bytes of a character: 1, or 2 for UTF-16 */
    size_t low;  /* which of the two is the low one */
    unsigned line;
    bool has_nul;
};

/* Before the first character, behind a byte order mark. */
struct hbk_xml_walk hbk_xml_walk_begin(const char *bytes, size_t length);

/*
 * The next character, or the one that many further on: itself below 0x100,
 * else HBK_XML_WALK_OTHER; HBK_XML_WALK_END after the last.
 */
int hbk_xml_walk_peek(const struct hbk_xml_walk *walk, size_t ahead);
/* The same for the next character, which is then behind. */
int hbk_xml_walk_next(struct hbk_xml_walk *walk);

/* Whether the next characters are these, of ASCII. */
bool hbk_xml_walk_starts(const struct hbk_xml_walk *walk, const char *text);
/* Behind the next such text, or to the end. */
void hbk_xml_walk_skip_over(struct hbk_xml_walk *walk, const char *text);
/* To one of the two characters, outside quotes; counts the = on the way. */
size_t hbk_xml_walk_skip_to(struct hbk_xml_walk *walk, int one, int other);

#endif
