#include "tune/musicxml/score.h"

#include "base/number.h"
#include "tune/melody/build_marks.h"

#include <string.h>

/* What stands in a measure besides notes and directions, as marks. */

static void barline_marks(struct hbk_musicxml_reader *reader,
                          const xmlNode *node)
{
    static const struct {
        const char *name;
        enum hbk_tune_mark_kind kind;
    } signs[] = {{"segno", HBK_TUNE_MARK_SEGNO},
                 {"coda", HBK_TUNE_MARK_CODA},
                 {"fermata", HBK_TUNE_MARK_FERMATA}};
    const bool is_left = hbk_xml_says(node, "location", "left");
    const bool is_within = hbk_xml_says(node, "location", "middle");
    for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
        const xmlNode *const sign = hbk_xml_child(node, signs[i].name);
        if (sign == NULL) {
            continue;
        }
        struct hbk_build_spot spot =
            is_left     ? hbk_build_at_time(&reader->build, hbk_ratio_whole(0))
            : is_within ? hbk_build_at_time(&reader->build, reader->cursor)
                        : hbk_build_at_bar_end(&reader->build);
        if (signs[i].kind == HBK_TUNE_MARK_FERMATA &&
            (is_left || (is_within && reader->cursor.num == 0))) {
            spot = hbk_build_at_bar_end(&reader->build);
            spot.bar -= spot.bar > 0 ? 1 : 0;
        }
        (void)hbk_build_mark(&reader->build, signs[i].kind, spot,
                             hbk_xml_place(reader->file, sign));
    }
    if (hbk_xml_says(hbk_xml_child(node, "wavy-line"), "type", "start")) {
        hbk_build_left_out(&reader->build, "line after a trill",
                           "lines after trills");
    }
}

static void style_marks(struct hbk_musicxml_reader *reader, const xmlNode *node)
{
    struct hbk_build *const build = &reader->build;
    long bars = 0;
    if (hbk_number_parse_whole(
            hbk_xml_text(reader->arena, hbk_xml_child(node, "multiple-rest")),
            2, 9999, &bars)) {
        hbk_build_last_bar(build)->rests = (unsigned)bars;
    }
    if (hbk_xml_says(hbk_xml_child(node, "measure-repeat"), "type", "start")) {
        hbk_build_left_out(build, "sign that repeats bars",
                           "signs that repeat bars");
    }
    if (hbk_xml_says(hbk_xml_child(node, "beat-repeat"), "type", "start") ||
        hbk_xml_says(hbk_xml_child(node, "slash"), "type", "start")) {
        hbk_build_left_out(build, "stretch of slashes", "stretches of slashes");
    }
}

static void attribute_marks(struct hbk_musicxml_reader *reader,
                            const xmlNode *node)
{
    for (const xmlNode *at = node->children; at != NULL; at = at->next) {
        if (hbk_xml_is(at, "measure-style")) {
            style_marks(reader, at);
        } else if (hbk_xml_is(at, "directive")) {
            struct hbk_build_mark *const mark = hbk_build_words(
                &reader->build, hbk_xml_text(reader->arena, at),
                hbk_build_at_time(&reader->build, reader->cursor),
                hbk_xml_place(reader->file, at));
            if (mark != NULL) {
                mark->mark.kind = HBK_TUNE_MARK_TEMPO;
            }
        }
    }
}

static void count_harmony(struct hbk_musicxml_reader *reader,
                          const xmlNode *node)
{
    if (!hbk_xml_says(node, "print-object", "no")) {
        hbk_build_left_out(&reader->build, "chord symbol", "chord symbols");
    }
    if (hbk_xml_child(node, "frame") != NULL) {
        hbk_build_left_out(&reader->build, "chord diagram", "chord diagrams");
    }
}

void hbk_musicxml_mark(struct hbk_musicxml_reader *reader, const xmlNode *node)
{
    if (reader->jump != NULL &&
        reader->jump_at.bar + 1 < reader->build.tune->n_bars) {
        hbk_musicxml_print_jump(reader);
    }
    if (hbk_xml_is(node, "direction")) {
        hbk_musicxml_direction_marks(reader, node);
    } else if (hbk_xml_is(node, "sound")) {
        hbk_musicxml_silent_jump(reader, node);
    } else if (hbk_xml_is(node, "barline")) {
        barline_marks(reader, node);
    } else if (hbk_xml_is(node, "attributes")) {
        attribute_marks(reader, node);
    } else if (hbk_xml_is(node, "harmony")) {
        count_harmony(reader, node);
    } else if (hbk_xml_is(node, "figured-bass")) {
        hbk_build_left_out(&reader->build, "figured bass", "figured basses");
    } else if (hbk_xml_is(node, "note") && hbk_xml_child(node, "cue") != NULL &&
               hbk_xml_child(node, "rest") == NULL) {
        hbk_build_left_out(&reader->build, "cue note", "cue notes");
    }
}
