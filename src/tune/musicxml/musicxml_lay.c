#include "tune/musicxml/musicxml_lay.h"

#include "base/messages.h"
#include "base/number.h"

#include <stdlib.h>
#include <string.h>

static void add_item(struct hbk_musicxml_reader *reader,
                     struct hbk_musicxml_measure *measure, xmlNode *node,
                     struct hbk_ratio length)
{
    measure->items[measure->n_items] =
        (struct hbk_musicxml_item){.node = node,
                                   .first = node,
                                   .order = measure->n_items,
                                   .onset = reader->cursor,
                                   .length = length};
    measure->n_items++;
}

static void too_fine(struct hbk_musicxml_reader *reader, const xmlNode *node)
{
    hbk_build_error(&reader->build, hbk_xml_place(reader->file, node),
                    HBK_H_NOTE_TIME,
                    "bar %.20s: the durations do not add up to a time that "
                    "can be kept exactly",
                    reader->bar);
}

static void move_cursor(struct hbk_musicxml_reader *reader, const xmlNode *node,
                        bool is_back)
{
    struct hbk_ratio duration;
    if (!hbk_musicxml_duration(reader, node, &duration)) {
        return;
    }
    const bool good =
        is_back ? hbk_ratio_sub(reader->cursor, duration, &reader->cursor)
                : hbk_ratio_add(reader->cursor, duration, &reader->cursor);
    if (!good) {
        too_fine(reader, node);
    } else if (reader->cursor.num < 0) {
        hbk_build_warn(&reader->build, hbk_xml_place(reader->file, node),
                       HBK_H_XML_BACKUP,
                       "bar %.20s: a backup leads out of the bar; read as if "
                       "it led to its beginning",
                       reader->bar);
        reader->cursor = hbk_ratio_whole(0);
    }
}

static bool has_note_before(const xmlNode *node)
{
    const xmlNode *at = node->prev;
    while (at != NULL && !hbk_xml_is(at, "note")) {
        at = at->prev;
    }
    return at != NULL;
}

static void lay_note(struct hbk_musicxml_reader *reader,
                     struct hbk_musicxml_measure *measure, xmlNode *node)
{
    struct hbk_ratio duration = hbk_ratio_whole(0);
    const bool is_silent = hbk_xml_child(node, "cue") != NULL &&
                           hbk_xml_child(node, "duration") == NULL;
    if (hbk_xml_child(node, "chord") != NULL && has_note_before(node)) {
        return; /* with that note */
    }
    if (hbk_xml_child(node, "grace") == NULL && !is_silent &&
        !hbk_musicxml_duration(reader, node, &duration)) {
        return;
    }
    add_item(reader, measure, node, duration);
    if (!hbk_ratio_add(reader->cursor, duration, &reader->cursor)) {
        too_fine(reader, node);
    }
}

bool hbk_musicxml_divisions(struct hbk_musicxml_reader *reader,
                            const xmlNode *attributes)
{
    const xmlNode *const node = hbk_xml_child(attributes, "divisions");
    struct hbk_ratio divisions;
    if (node == NULL) {
        return true;
    }
    if (!hbk_ratio_parse(hbk_xml_text(reader->arena, node), &divisions) ||
        divisions.num <= 0) {
        hbk_build_error(
            &reader->build, hbk_xml_place(reader->file, node), HBK_H_XML_NUMBER,
            "bar %.20s: divisions must be a number above 0", reader->bar);
        return false;
    }
    reader->divisions = divisions;
    return true;
}

/* Whether the reader has any use for it. */
static bool is_item(const xmlNode *node)
{
    static const char *const names[] = {
        "note",    "attributes", "direction",   "sound",
        "barline", "harmony",    "figured-bass"};
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        if (hbk_xml_is(node, names[i])) {
            return true;
        }
    }
    return false;
}

void hbk_musicxml_lay_out(struct hbk_musicxml_reader *reader,
                          struct hbk_musicxml_measure *measure)
{
    reader->cursor = hbk_ratio_whole(0);
    reader->bar = measure->number;
    size_t n = 0;
    for (const xmlNode *node = measure->content->children; node != NULL;
         node = node->next) {
        n += is_item(node) ? 1 : 0;
    }
    measure->items =
        HBK_ARENA_ARRAY(reader->arena, struct hbk_musicxml_item, n + 1);
    for (xmlNode *node = measure->content->children;
         node != NULL && !reader->build.failed; node = node->next) {
        if (hbk_xml_is(node, "note")) {
            lay_note(reader, measure, node);
        } else if (hbk_xml_is(node, "backup")) {
            move_cursor(reader, node, true);
        } else if (hbk_xml_is(node, "forward")) {
            move_cursor(reader, node, false);
        } else if (is_item(node)) {
            if (hbk_xml_is(node, "attributes") &&
                !hbk_musicxml_divisions(reader, node)) {
                return;
            }
            add_item(reader, measure, node, hbk_ratio_whole(0));
        }
        if (hbk_ratio_compare(measure->reach, reader->cursor) < 0) {
            measure->reach = reader->cursor;
        }
    }
}

/* ---- the notes that sound together ---- */

/* The next note of the chord that `node` belongs to, or NULL. */
static xmlNode *next_in_chord(const xmlNode *node)
{
    xmlNode *const next = hbk_xml_next(node, "note");
    return next != NULL && hbk_xml_child(next, "chord") != NULL ? next : NULL;
}

static bool is_pitched(const xmlNode *node)
{
    return hbk_xml_child(node, "pitch") != NULL &&
           hbk_xml_child(node, "cue") == NULL;
}

bool hbk_musicxml_is_note(const struct hbk_musicxml_item *item)
{
    return hbk_xml_is(item->first, "note");
}

size_t hbk_musicxml_notes_in(const struct hbk_musicxml_item *item)
{
    size_t n = 0;
    for (const xmlNode *node = item->first; node != NULL;
         node = next_in_chord(node)) {
        n += is_pitched(node) ? 1 : 0;
    }
    return n;
}

double hbk_musicxml_height(struct hbk_musicxml_reader *reader,
                           const xmlNode *node)
{
    static const char steps[] = "C D EF G A B";
    const xmlNode *const pitch = hbk_xml_child(node, "pitch");
    const char *const step =
        hbk_xml_text(reader->arena, hbk_xml_child(pitch, "step"));
    const char *const at = step[0] == '\0' ? NULL : strchr(steps, step[0]);
    double octave = 0.0;
    double alter = 0.0;
    (void)hbk_number_parse(
        hbk_xml_text(reader->arena, hbk_xml_child(pitch, "octave")), &octave);
    (void)hbk_number_parse(
        hbk_xml_text(reader->arena, hbk_xml_child(pitch, "alter")), &alter);
    return (12.0 * octave) + alter + (at == NULL ? 0.0 : (double)(at - steps));
}

struct height {
    double height;
    size_t order;
    xmlNode *node;
};

/* From the top, equal ones in the order of the file. */
static int compare_heights(const void *a, const void *b)
{
    const struct height *const left = a;
    const struct height *const right = b;
    if (left->height != right->height) {
        return left->height > right->height ? -1 : 1;
    }
    return left->order < right->order ? -1 : 1;
}

xmlNode *hbk_musicxml_note_of_rank(struct hbk_musicxml_reader *reader,
                                   const struct hbk_musicxml_item *item,
                                   size_t rank)
{
    const size_t n = hbk_musicxml_notes_in(item);
    if (n == 0) {
        return item->first;
    }
    struct height *const heights =
        HBK_ARENA_ARRAY(reader->arena, struct height, n);
    size_t k = 0;
    for (xmlNode *node = item->first; node != NULL;
         node = next_in_chord(node)) {
        if (is_pitched(node)) {
            heights[k] =
                (struct height){.height = hbk_musicxml_height(reader, node),
                                .order = k,
                                .node = node};
            k++;
        }
    }
    qsort(heights, n, sizeof(heights[0]), compare_heights);
    return heights[rank].node;
}
