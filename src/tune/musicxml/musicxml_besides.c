#include "tune/musicxml/musicxml_besides.h"

#include "tune/melody/source.h"
#include "tune/musicxml/score.h"

#include <string.h>

static void count_parts(const xmlNode *root, struct hbk_lost *lost)
{
    const xmlNode *const list = hbk_xml_child(root, "part-list");
    size_t n = 0;
    for (const xmlNode *part = hbk_xml_child(list, "score-part"); part != NULL;
         part = hbk_xml_next(part, "score-part")) {
        n++;
    }
    hbk_lost_count(lost, "other part", "other parts", n > 1 ? n - 1 : 0);
}

static bool is_break(const xmlNode *node)
{
    return hbk_xml_is(node, "print") &&
           (hbk_xml_says(node, "new-system", "yes") ||
            hbk_xml_says(node, "new-page", "yes"));
}

/* The part that a node is in, or NULL. */
static const xmlNode *part_of(const xmlNode *node)
{
    while (node != NULL && !hbk_xml_is(node, "part")) {
        node = node->parent;
    }
    return node;
}

/* The id of the part that was read, or NULL. */
static const char *part_read(const struct hbk_tune_document *document,
                             struct hbk_arena *arena)
{
    xmlNode *const *const notes = document->source->musicxml->notes;
    for (size_t i = 0; i < document->tune.n_events; i++) {
        if (notes[i] != NULL) {
            return hbk_xml_attribute(arena, part_of(notes[i]), "id");
        }
    }
    return NULL;
}

/* Whether it is a note with pitch, and no cue note, of the part. */
static bool is_of_part(const xmlNode *node, const char *part)
{
    return hbk_xml_is(node, "note") && hbk_xml_child(node, "pitch") != NULL &&
           hbk_xml_child(node, "cue") == NULL && part != NULL &&
           hbk_xml_says(part_of(node), "id", part);
}

/* The notes of the line that was read. */
static size_t notes_read(const struct hbk_tune_document *document)
{
    xmlNode *const *const notes = document->source->musicxml->notes;
    size_t n = 0;
    for (size_t i = 0; i < document->tune.n_events; i++) {
        n += notes[i] != NULL && hbk_xml_child(notes[i], "pitch") != NULL;
    }
    return n;
}

void hbk_musicxml_count_besides(const struct hbk_tune_document *document,
                                struct hbk_lost *lost)
{
    const struct hbk_musicxml *const musicxml = document->source->musicxml;
    const xmlNode *const root = xmlDocGetRootElement(musicxml->document);
    const char *const part = part_read(document, lost->arena);
    size_t notes = 0;
    size_t breaks = 0;
    size_t comments = 0;
    for (const xmlNode *at = root; at != NULL;
         at = hbk_xml_following(at, root)) {
        comments += at->type == XML_COMMENT_NODE;
        breaks += is_break(at) && part != NULL &&
                  hbk_xml_says(part_of(at), "id", part);
        notes += is_of_part(at, part);
    }
    const size_t read = notes_read(document);
    count_parts(root, lost);
    hbk_lost_count(lost, "note of another line", "notes of other lines",
                   notes > read ? notes - read : 0);
    hbk_lost_count(lost, "break of a line or page", "breaks of lines or pages",
                   breaks);
    hbk_lost_count(lost, "comment", "comments", comments);
}
