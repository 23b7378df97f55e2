#include "tune/musicxml/musicxml.h"

#include "base/messages.h"
#include "base/number.h"
#include "tune/melody/source.h"
#include "tune/musicxml/musicxml_lay.h"
#include "tune/musicxml/score.h"

#include <string.h>

static void read_item(struct hbk_musicxml_reader *reader,
                      const struct hbk_musicxml_item *item)
{
    const xmlNode *const node = item->node;
    if (!hbk_ratio_sub(item->onset, reader->begun, &reader->cursor)) {
        reader->cursor = hbk_ratio_whole(0);
    }
    if (hbk_xml_is(node, "barline")) {
        hbk_musicxml_barline(reader, node);
    }
    hbk_musicxml_mark(reader, node);
    if (hbk_musicxml_is_note(item)) {
        /* A cue note is only counted. */
        if (!item->is_read) {
            return;
        }
        hbk_musicxml_note(reader, item);
    } else if (hbk_xml_is(node, "attributes")) {
        hbk_musicxml_attributes(reader, node);
    } else if (hbk_xml_is(node, "direction")) {
        hbk_musicxml_direction(reader, node);
    } else if (hbk_xml_is(node, "sound")) {
        hbk_musicxml_sound(reader, node);
    }
}

static void read_measure(struct hbk_musicxml_reader *reader, size_t m)
{
    struct hbk_musicxml_measure *const measure = &reader->measures[m];
    const struct hbk_place place =
        hbk_xml_place(reader->file, measure->element);
    struct hbk_tune_bar *const bar = hbk_build_open_bar(&reader->build, place);
    bar->number = measure->number;
    bar->implicit = hbk_xml_says(measure->element, "implicit", "yes");
    reader->bar = measure->number;
    reader->measure = measure;
    reader->begun = hbk_ratio_whole(0);
    reader->filled = hbk_ratio_whole(0);
    measure->bar = reader->build.tune->n_bars - 1;
    if (!reader->tuplet_is_marked) {
        reader->tuplet = HBK_TUNE_NONE;
    }
    for (size_t i = 0; i < measure->n_items && !reader->build.failed; i++) {
        read_item(reader, &measure->items[i]);
    }
    struct hbk_ratio end;
    if (!reader->build.failed &&
        hbk_ratio_sub(measure->reach, reader->begun, &end)) {
        (void)hbk_musicxml_fill(reader, end, place);
    }
}

static bool is_score(const xmlNode *root, const char *file,
                     struct hbk_faults *faults)
{
    if (hbk_xml_is(root, "score-partwise") ||
        hbk_xml_is(root, "score-timewise")) {
        return true;
    }
    const bool is_list = hbk_xml_is(root, "opus");
    hbk_fault_add(faults, hbk_xml_place(file, root), HBK_H_XML_ROOT,
                  is_list ? "this is a list of scores; name one of them"
                          : "this is XML but no MusicXML score: its outer "
                            "element is neither score-partwise nor "
                            "score-timewise");
    return false;
}

/* The note elements, when some notes were written as several. */
static xmlNode **notes_of_pieces(const struct hbk_musicxml_reader *reader)
{
    const size_t n = reader->build.tune->n_events;
    xmlNode **const notes = HBK_ARENA_ARRAY(reader->arena, xmlNode *, n);
    for (size_t i = 0; i < n; i++) {
        const size_t old = reader->build.old[i];
        notes[i] = old == HBK_TUNE_NONE ? NULL : reader->notes[old];
    }
    return notes;
}

enum hbk_status hbk_musicxml_read(const char *name, const char *bytes,
                                  size_t length,
                                  const struct hbk_tune_options *options,
                                  struct hbk_tune_document *document,
                                  struct hbk_faults *faults)
{
    xmlDoc *const tree = hbk_xml_parse(name, bytes, length, faults);
    if (tree == NULL) {
        return HBK_ERR_INPUT;
    }
    struct hbk_musicxml *const musicxml =
        HBK_ARENA_ARRAY(&document->arena, struct hbk_musicxml, 1);
    *musicxml = (struct hbk_musicxml){
        .bytes = bytes, .length = length, .document = tree};
    document->source->musicxml = musicxml;
    const xmlNode *const root = xmlDocGetRootElement(tree);
    if (!is_score(root, name, faults)) {
        return HBK_ERR_INPUT;
    }
    struct hbk_musicxml_reader reader = {
        .build = {.arena = &document->arena,
                  .faults = faults,
                  .tune = &document->tune},
        .file = name,
        .arena = &document->arena,
        .divisions = hbk_ratio_whole(0),
        .tuplet = HBK_TUNE_NONE,
        .bar = "1",
    };
    hbk_build_set_meter(&reader.build, (struct hbk_tune_meter){.unit = 4});
    hbk_build_set_key(&reader.build, hbk_build_key(0, ""));
    hbk_build_set_clef(&reader.build,
                       (struct hbk_tune_clef){.sign = 'G', .line = 2});
    if (!hbk_musicxml_find_part(&reader, root, options) ||
        !hbk_musicxml_find_line(&reader, options)) {
        return HBK_ERR_INPUT;
    }
    hbk_musicxml_heading(&reader, root);
    for (size_t m = 0; m < reader.n_measures && !reader.build.failed; m++) {
        read_measure(&reader, m);
    }
    if (!reader.build.failed) {
        hbk_musicxml_signs(&reader, root);
        hbk_musicxml_note_marks(&reader);
    }
    musicxml->notes = reader.notes;
    const enum hbk_status status = hbk_build_finish(&reader.build);
    if (status != HBK_OK) {
        return status;
    }
    if (reader.build.old != NULL) {
        musicxml->notes = notes_of_pieces(&reader);
    }
    return HBK_OK;
}

void hbk_musicxml_finish(struct hbk_musicxml *musicxml)
{
    if (musicxml != NULL) {
        xmlFreeDoc(musicxml->document);
        musicxml->document = NULL;
    }
}
