#ifndef HBK_TUNE_MUSICXML_XML_SPOTS_H
#define HBK_TUNE_MUSICXML_XML_SPOTS_H

#include "base/text.h"

#include <libxml/tree.h>

/*
 * Where the elements of a parsed document stand in its bytes, and changes to
 * these bytes that leave all others as they are, whatever the encoding.
 */

/* An element or a processing instruction; offsets in bytes. */
struct hbk_xml_spot {
    size_t begin;       /* its first < */
    size_t inside;      /* behind its start tag */
    size_t close;       /* the < of its end tag */
    size_t end;         /* behind its last > */
    size_t name, local; /* its name, and that without a prefix */
    bool is_empty;      /* <name/>, or an instruction: nothing goes inside */
    bool is_gone;       /* taken out */
    bool is_heard;      /* a note of the line that was read */
};

/* Bytes from one offset up to another that give way to others. */
struct hbk_xml_edit {
    size_t from, to;
    const char *bytes;
    size_t length;
};

/* A document with its bytes, while it is edited. */
struct hbk_xml_spots {
    const char *bytes;
    size_t length;
    size_t unit, low; /* as struct hbk_xml_walk has them */
    bool is_utf8;
    struct hbk_arena *arena;
    size_t n, room;
    struct hbk_xml_spot *items; /* of the root and all in it, in their order */
    size_t n_edits, room_edits;
    struct hbk_xml_edit *edits;
};

/*
 * Finds the spot of every element and processing instruction in the root of
 * `document`, which was parsed from these bytes. False when tags and tree do
 * not agree.
 *
 * arena   where the spots live, which hbk_xml_spot() hands out
 * spots   borrows `bytes`
 */
bool hbk_xml_spots_find(const xmlDoc *document, const char *bytes,
                        size_t length, struct hbk_arena *arena,
                        struct hbk_xml_spots *spots) HBK_MUST_CHECK;

/* The spot of an element or processing instruction in the root. */
struct hbk_xml_spot *hbk_xml_spot(const xmlNode *node);

/* Whether it is an element that is not taken out. */
bool hbk_xml_is_live(const xmlNode *node);
/* The next such after or before a node, or the node itself; else NULL. */
const xmlNode *hbk_xml_live_after(const xmlNode *node);
const xmlNode *hbk_xml_live_before(const xmlNode *node);
/* The next such after it of this name, or the node itself; else NULL. */
const xmlNode *hbk_xml_live_named(const xmlNode *node, const char *name);

/* Where the blanks right before an offset begin. */
size_t hbk_xml_blank_before(const struct hbk_xml_spots *spots, size_t offset);
/* Where the blanks from an offset on end. */
size_t hbk_xml_blank_after(const struct hbk_xml_spots *spots, size_t offset);

/*
 * Adds the last line of the blanks from one offset up to another, with the
 * line end before it, as they are in the file.
 */
void hbk_xml_put_blank(const struct hbk_xml_spots *spots, size_t from,
                       size_t to, struct hbk_text *out);
/* Adds UTF-8 in the encoding of the file, with references where need be. */
void hbk_xml_put_text(const struct hbk_xml_spots *spots, const char *text,
                      struct hbk_text *out);

/* Takes out the bytes from one offset up to another. */
void hbk_xml_take_out(struct hbk_xml_spots *spots, size_t from, size_t to);
/* Puts bytes in at an offset; they are borrowed. */
void hbk_xml_put_in(struct hbk_xml_spots *spots, size_t at,
                    const struct hbk_text *text);
/* Adds the bytes with all edits made. */
void hbk_xml_edited(struct hbk_xml_spots *spots, struct hbk_text *out);

#endif
