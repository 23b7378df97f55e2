#ifndef HBK_TUNE_MUSICXML_XML_LOOK_H
#define HBK_TUNE_MUSICXML_XML_LOOK_H

#include <stdbool.h>
#include <stddef.h>

enum { HBK_XML_ATTRIBUTES_MAX = 200 }; /* of one element */

enum hbk_xml_look {
    HBK_XML_LOOKS_GOOD,
    HBK_XML_DECLARES, /* declarations of entities, elements, ... */
    HBK_XML_CROWDED,  /* one element with too many attributes */
    HBK_XML_ENCODING, /* an encoding that is not looked through */
    HBK_XML_NOT_TEXT  /* NUL characters */
};

/*
 * A look over the bytes before they are parsed, for what costs libxml2
 * (2.9) time or memory out of all proportion before any of its events can
 * be watched: declarations, and attributes, which it compares each with
 * each. Says nothing about well-formedness; all that the parser will take
 * for markup is seen, for UTF-8 and its relatives and UTF-16.
 *
 * line   receives the line of what was found
 */
enum hbk_xml_look hbk_xml_look_over(const char *bytes, size_t length,
                                    unsigned *line);

#endif
