#include "tune/musicxml/xml_spots.h"

#include "tune/musicxml/xml.h"
#include "tune/musicxml/xml_walk.h"

#include <libxml/xmlstring.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- where things stand ---- */

/* The tags of a document while they are gone through. */
struct tags {
    struct hbk_xml_walk walk;
    struct hbk_xml_spots *spots;
    size_t open[HBK_XML_DEPTH_MAX + 1]; /* numbers of the open elements */
    size_t depth;
    bool is_odd; /* what a parsed document cannot be */
};

static struct hbk_xml_spot *add_spot(struct tags *tags, size_t begin)
{
    struct hbk_xml_spots *const spots = tags->spots;
    HBK_ARENA_GROW(spots->arena, spots->items, spots->n, spots->room);
    struct hbk_xml_spot *const spot = &spots->items[spots->n++];
    *spot = (struct hbk_xml_spot){
        .begin = begin, .name = tags->walk.at, .local = tags->walk.at};
    return spot;
}

/* Behind the > that comes next; where it stands. */
static size_t pass_tag(struct hbk_xml_walk *walk)
{
    (void)hbk_xml_walk_skip_to(walk, '>', '>');
    const size_t at = walk->at;
    (void)hbk_xml_walk_next(walk);
    return at;
}

static bool is_of_name(int c)
{
    return c != HBK_XML_WALK_END &&
           (c > 0x7F || strchr(" \t\r\n/>", c) == NULL);
}

static void pass_start(struct tags *tags, size_t begin)
{
    struct hbk_xml_walk *const walk = &tags->walk;
    struct hbk_xml_spot *const spot = add_spot(tags, begin);
    for (size_t i = 0; is_of_name(hbk_xml_walk_peek(walk, i)); i++) {
        if (hbk_xml_walk_peek(walk, i) == ':') {
            spot->local = walk->at + ((i + 1) * walk->unit);
            break;
        }
    }
    walk->at = pass_tag(walk) - walk->unit;
    spot->is_empty = hbk_xml_walk_next(walk) == '/';
    (void)hbk_xml_walk_next(walk);
    spot->inside = spot->close = spot->end = walk->at;
    if (!spot->is_empty && tags->depth > HBK_XML_DEPTH_MAX) {
        tags->is_odd = true;
    } else if (!spot->is_empty) {
        tags->open[tags->depth++] = tags->spots->n - 1;
    }
}

static void pass_end(struct tags *tags, size_t begin)
{
    (void)pass_tag(&tags->walk);
    if (tags->depth == 0) {
        tags->is_odd = true;
        return;
    }
    struct hbk_xml_spot *const spot =
        &tags->spots->items[tags->open[--tags->depth]];
    spot->close = begin;
    spot->end = tags->walk.at;
}

static void pass_instruction(struct tags *tags, size_t begin)
{
    struct hbk_xml_walk *const walk = &tags->walk;
    (void)hbk_xml_walk_next(walk);
    struct hbk_xml_spot *const spot =
        tags->depth > 0 ? add_spot(tags, begin) : NULL;
    hbk_xml_walk_skip_over(walk, "?>");
    if (spot != NULL) {
        spot->inside = spot->close = spot->end = walk->at;
        spot->is_empty = true;
    }
}

/* After a < : what follows, up to its end. */
static void pass_markup(struct tags *tags, size_t begin)
{
    struct hbk_xml_walk *const walk = &tags->walk;
    if (hbk_xml_walk_starts(walk, "!--")) {
        walk->at += 3 * walk->unit;
        hbk_xml_walk_skip_over(walk, "-->");
    } else if (hbk_xml_walk_starts(walk, "![CDATA[")) {
        hbk_xml_walk_skip_over(walk, "]]>");
    } else if (hbk_xml_walk_starts(walk, "!")) {
        (void)hbk_xml_walk_skip_to(walk, '>', '[');
    } else if (hbk_xml_walk_starts(walk, "?")) {
        pass_instruction(tags, begin);
    } else if (hbk_xml_walk_starts(walk, "/")) {
        pass_end(tags, begin);
    } else {
        pass_start(tags, begin);
    }
}

/* From the root's first < to its last > . */
static bool list_spots(struct hbk_xml_spots *spots)
{
    struct tags tags = {.walk = hbk_xml_walk_begin(spots->bytes, spots->length),
                        .spots = spots};
    int c = 0;
    while (c != HBK_XML_WALK_END && !tags.is_odd &&
           (tags.depth > 0 || spots->n == 0)) {
        const size_t at = tags.walk.at;
        c = hbk_xml_walk_next(&tags.walk);
        if (c == '<') {
            pass_markup(&tags, at);
        }
    }
    return !tags.is_odd && tags.depth == 0 && spots->n > 0;
}

/* ---- which node stands where ---- */

/* Whether the bytes at an offset are this name, as far as it is of ASCII. */
static bool is_name(const struct hbk_xml_spots *spots, size_t at,
                    const xmlChar *name)
{
    struct hbk_xml_walk walk = {.bytes = (const unsigned char *)spots->bytes,
                                .length = spots->length,
                                .at = at,
                                .unit = spots->unit,
                                .low = spots->low};
    for (size_t i = 0; name[i] != '\0'; i++) {
        if (name[i] >= 0x80) {
            return true;
        }
        if (hbk_xml_walk_peek(&walk, i) != name[i]) {
            return false;
        }
    }
    return true;
}

/* Hangs each spot on its node; false when they are not the same. */
static bool hang_up(const struct hbk_xml_spots *spots, xmlNode *root)
{
    size_t n = 0;
    xmlNode *at = root;
    while (at != NULL) {
        const bool is_element = at->type == XML_ELEMENT_NODE;
        if (is_element || at->type == XML_PI_NODE) {
            struct hbk_xml_spot *const spot = &spots->items[n];
            if (n == spots->n || (!is_element && !spot->is_empty) ||
                !(is_name(spots, spot->local, at->name) ||
                  is_name(spots, spot->name, at->name))) {
                return false;
            }
            at->_private = spot;
            n++;
        }
        at = hbk_xml_following(at, root);
    }
    return n == spots->n;
}

static bool is_utf8(const xmlDoc *document, size_t unit)
{
    return unit == 1 &&
           (document->encoding == NULL ||
            xmlStrcasecmp(document->encoding, (const xmlChar *)"UTF-8") == 0);
}

bool hbk_xml_spots_find(const xmlDoc *document, const char *bytes,
                        size_t length, struct hbk_arena *arena,
                        struct hbk_xml_spots *spots)
{
    const struct hbk_xml_walk walk = hbk_xml_walk_begin(bytes, length);
    *spots = (struct hbk_xml_spots){.bytes = bytes,
                                    .length = length,
                                    .unit = walk.unit,
                                    .low = walk.low,
                                    .is_utf8 = is_utf8(document, walk.unit),
                                    .arena = arena};
    return list_spots(spots) && hang_up(spots, xmlDocGetRootElement(document));
}

struct hbk_xml_spot *hbk_xml_spot(const xmlNode *node)
{
    return node->_private;
}

/* ---- what is left of the tree ---- */

bool hbk_xml_is_live(const xmlNode *node)
{
    return node->type == XML_ELEMENT_NODE && !hbk_xml_spot(node)->is_gone;
}

const xmlNode *hbk_xml_live_before(const xmlNode *node)
{
    while (node != NULL && !hbk_xml_is_live(node)) {
        node = node->prev;
    }
    return node;
}

const xmlNode *hbk_xml_live_after(const xmlNode *node)
{
    while (node != NULL && !hbk_xml_is_live(node)) {
        node = node->next;
    }
    return node;
}

const xmlNode *hbk_xml_live_named(const xmlNode *node, const char *name)
{
    while (node != NULL && !(hbk_xml_is(node, name) && hbk_xml_is_live(node))) {
        node = node->next;
    }
    return node;
}

/* ---- blanks and new text ---- */

static int character_at(const struct hbk_xml_spots *spots, size_t at)
{
    const struct hbk_xml_walk walk = {.bytes =
                                          (const unsigned char *)spots->bytes,
                                      .length = spots->length,
                                      .at = at,
                                      .unit = spots->unit,
                                      .low = spots->low};
    return hbk_xml_walk_peek(&walk, 0);
}

static bool is_blank_at(const struct hbk_xml_spots *spots, size_t at)
{
    const int c = character_at(spots, at);
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

size_t hbk_xml_blank_before(const struct hbk_xml_spots *spots, size_t offset)
{
    while (offset >= spots->unit && is_blank_at(spots, offset - spots->unit)) {
        offset -= spots->unit;
    }
    return offset;
}

size_t hbk_xml_blank_after(const struct hbk_xml_spots *spots, size_t offset)
{
    while (is_blank_at(spots, offset)) {
        offset += spots->unit;
    }
    return offset;
}

void hbk_xml_put_blank(const struct hbk_xml_spots *spots, size_t from,
                       size_t to, struct hbk_text *out)
{
    size_t begin = from;
    for (size_t at = from; at < to; at += spots->unit) {
        const int c = character_at(spots, at);
        const bool is_pair = c == '\n' && at > from &&
                             character_at(spots, at - spots->unit) == '\r';
        if (c == '\r' || (c == '\n' && !is_pair)) {
            begin = at;
        }
    }
    hbk_text_put(out, spots->bytes + begin, to - begin);
}

static void put_ascii(const struct hbk_xml_spots *spots, char c,
                      struct hbk_text *out)
{
    const char wide[2] = {spots->low == 0 ? c : '\0',
                          spots->low == 0 ? '\0' : c};
    hbk_text_put(out, spots->unit == 2 ? wide : &c, spots->unit);
}

void hbk_xml_put_text(const struct hbk_xml_spots *spots, const char *text,
                      struct hbk_text *out)
{
    if (spots->is_utf8) {
        hbk_text_add(out, text);
        return;
    }
    for (const char *at = text; *at != '\0';) {
        int n = 4;
        const int code = xmlGetUTF8Char((const unsigned char *)at, &n);
        if ((unsigned char)*at < 0x80 || code < 0) {
            put_ascii(spots, *at++, out);
            continue;
        }
        at += n;
        char reference[16];
        (void)snprintf(reference, sizeof(reference), "&#%d;", code);
        for (const char *c = reference; *c != '\0'; c++) {
            put_ascii(spots, *c, out);
        }
    }
}

/* ---- edits ---- */

static void add_edit(struct hbk_xml_spots *spots, struct hbk_xml_edit edit)
{
    HBK_ARENA_GROW(spots->arena, spots->edits, spots->n_edits,
                   spots->room_edits);
    spots->edits[spots->n_edits++] = edit;
}

void hbk_xml_take_out(struct hbk_xml_spots *spots, size_t from, size_t to)
{
    add_edit(spots, (struct hbk_xml_edit){.from = from, .to = to});
}

void hbk_xml_put_in(struct hbk_xml_spots *spots, size_t at,
                    const struct hbk_text *text)
{
    add_edit(spots, (struct hbk_xml_edit){.from = at,
                                          .to = at,
                                          .bytes = text->bytes,
                                          .length = text->length});
}

/* By place; what is put in before what is taken out there. */
static int compare_edits(const void *a, const void *b)
{
    const struct hbk_xml_edit *const one = a;
    const struct hbk_xml_edit *const two = b;
    if (one->from != two->from) {
        return one->from < two->from ? -1 : 1;
    }
    return (one->to > two->to) - (one->to < two->to);
}

void hbk_xml_edited(struct hbk_xml_spots *spots, struct hbk_text *out)
{
    if (spots->n_edits > 0) {
        qsort(spots->edits, spots->n_edits, sizeof(*spots->edits),
              compare_edits);
    }
    size_t done = 0;
    for (size_t i = 0; i < spots->n_edits; i++) {
        const struct hbk_xml_edit *const edit = &spots->edits[i];
        if (edit->from > done) {
            hbk_text_put(out, spots->bytes + done, edit->from - done);
            done = edit->from;
        }
        if (edit->length > 0) {
            hbk_text_put(out, edit->bytes, edit->length);
        }
        done = edit->to > done ? edit->to : done;
    }
    hbk_text_put(out, spots->bytes + done, spots->length - done);
}
