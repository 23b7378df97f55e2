#include "tune/melody/build_marks.h"
#include "tune/musicxml/score.h"

/*
 * Bar lines within a measure: a repeat that begins or ends there, a dashed
 * line. Each parts it into bars that share its number, as when a bar of ABC is
 * split by a repeat.
 */

/* Whether the line that is read pauses at the cursor, with notes to come. */
static bool may_split(const struct hbk_musicxml_reader *reader)
{
    struct hbk_ratio left;
    return reader->measure->n_splits < HBK_MUSICXML_SPLITS_MAX &&
           reader->tuplet == HBK_TUNE_NONE && reader->cursor.num > 0 &&
           hbk_ratio_compare(reader->filled, reader->cursor) <= 0 &&
           hbk_ratio_sub(reader->measure->reach, reader->begun, &left) &&
           hbk_ratio_compare(reader->cursor, left) < 0;
}

bool hbk_musicxml_split(struct hbk_musicxml_reader *reader,
                        const xmlNode *barline, enum hbk_tune_barline style)
{
    struct hbk_build *const build = &reader->build;
    struct hbk_musicxml_measure *const measure = reader->measure;
    const struct hbk_place place = hbk_xml_place(reader->file, barline);
    const bool repeats = hbk_xml_child(barline, "repeat") != NULL;
    const bool has_style = hbk_xml_child(barline, "bar-style") != NULL;
    const bool divides = repeats || style != HBK_TUNE_BAR_PLAIN;
    struct hbk_ratio begun;
    if (!repeats && (!has_style || style == HBK_TUNE_BAR_INVISIBLE)) {
        return false;
    }
    if (!divides || !may_split(reader) ||
        !hbk_ratio_add(reader->begun, reader->cursor, &begun) ||
        !hbk_musicxml_fill(reader, reader->cursor, place)) {
        hbk_build_left_out(
            build, repeats ? "repeat within a note" : "bar line within a bar",
            repeats ? "repeats within notes" : "bar lines within bars");
        return false;
    }
    measure->splits[measure->n_splits++] = barline;
    reader->begun = begun;
    reader->cursor = hbk_ratio_whole(0);
    reader->filled = hbk_ratio_whole(0);
    struct hbk_tune_bar *const bar = hbk_build_open_bar(build, place);
    bar->number = measure->number;
    bar->implicit = true;
    return true;
}
