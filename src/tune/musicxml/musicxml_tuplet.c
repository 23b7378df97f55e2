#include "tune/musicxml/musicxml_tuplet.h"

#include "base/number.h"
#include "tune/melody/build_marks.h"

/* Tuplets, and tuplets within them. */

/* 3 in the time of 2; 1 and 1 for none. */
static void read_modification(struct hbk_musicxml_reader *reader,
                              const xmlNode *node, unsigned *actual,
                              unsigned *normal)
{
    const xmlNode *const time = hbk_xml_child(node, "time-modification");
    long numbers[2] = {1, 1};
    if (hbk_number_parse_whole(
            hbk_xml_text(reader->arena, hbk_xml_child(time, "actual-notes")), 1,
            999, &numbers[0]) &&
        hbk_number_parse_whole(
            hbk_xml_text(reader->arena, hbk_xml_child(time, "normal-notes")), 1,
            999, &numbers[1])) {
        *actual = (unsigned)numbers[0];
        *normal = (unsigned)numbers[1];
    }
}

/*
 * Whether the tuplets from the one that begins a nest make sense as one that
 * holds others: how the outer one divides its time is then told by those of
 * its notes that are in no inner one.
 */
static unsigned outer_of(const struct hbk_tune *tune, size_t first)
{
    unsigned outer = 0;
    for (size_t t = first; t < tune->n_tuplets; t++) {
        if (tune->tuplets[t].inner == 0) {
            outer = tune->tuplets[t].actual;
        }
    }
    for (size_t t = first; t < tune->n_tuplets; t++) {
        const struct hbk_tune_tuplet *const at = &tune->tuplets[t];
        const bool is_sound = at->inner == 0 ? at->actual == outer
                                             : at->inner == 1 && outer > 0 &&
                                                   at->actual % outer == 0 &&
                                                   at->actual > outer;
        if (!is_sound) {
            return 0;
        }
    }
    return outer;
}

/* The outermost tuplet ends; inner ones in it get their own numbers. */
static void close_nest(struct hbk_musicxml_reader *reader)
{
    struct hbk_tune *const tune = reader->build.tune;
    bool is_nest = false;
    for (size_t t = reader->nest_first; t < tune->n_tuplets; t++) {
        is_nest = is_nest || tune->tuplets[t].inner > 0;
    }
    if (!is_nest) {
        return;
    }
    const unsigned outer = outer_of(tune, reader->nest_first);
    if (outer == 0) {
        hbk_build_left_out(&reader->build, "tuplet within a tuplet",
                           "tuplets within tuplets");
    }
    reader->nests += outer > 0;
    for (size_t t = reader->nest_first; t < tune->n_tuplets; t++) {
        struct hbk_tune_tuplet *const at = &tune->tuplets[t];
        at->nest = outer > 0 ? reader->nests : 0;
        at->outer = outer;
        at->inner = outer > 0 && at->inner > 0 ? at->actual / outer : 0;
    }
}

/* Opens and closes the signs of tuplets at a note. */
static void count_depth(struct hbk_musicxml_reader *reader, unsigned stops)
{
    const bool was_open = reader->depth > 0;
    reader->depth = stops < reader->depth ? reader->depth - stops : 0;
    if (was_open && reader->depth == 0) {
        close_nest(reader);
    }
}

void hbk_musicxml_put_in_tuplet(struct hbk_musicxml_reader *reader,
                                const xmlNode *node,
                                struct hbk_tune_event *event,
                                struct hbk_musicxml_ends ends)
{
    const bool starts = ends.starts > 0;
    struct hbk_tune *const tune = reader->build.tune;
    unsigned actual = 1;
    unsigned normal = 1;
    read_modification(reader, node, &actual, &normal);
    if (actual == normal) {
        reader->tuplet = HBK_TUNE_NONE;
        reader->depth = 0;
        return;
    }
    if (reader->depth == 0) {
        reader->nest_first = tune->n_tuplets;
    }
    reader->depth += ends.starts;
    const bool goes_on = reader->tuplet != HBK_TUNE_NONE && !starts &&
                         tune->tuplets[reader->tuplet].actual == actual &&
                         tune->tuplets[reader->tuplet].normal == normal;
    const unsigned inner = reader->depth > 1 ? reader->depth - 1 : 0;
    if (!goes_on) {
        reader->tuplet = hbk_build_add_tuplet(
            &reader->build, (struct hbk_tune_tuplet){.first = tune->n_events,
                                                     .actual = actual,
                                                     .normal = normal,
                                                     .inner = inner});
        reader->tuplet_is_marked = starts;
        reader->tuplet_sum = hbk_ratio_whole(0);
    }
    struct hbk_tune_tuplet *const tuplet = &tune->tuplets[reader->tuplet];
    event->tuplet = reader->tuplet;
    tuplet->count = tune->n_events + 1 - tuplet->first;
    /* Without signs a group is as long as its normal number of notes. */
    unsigned dots = 0;
    const int value = hbk_build_value(event->length, actual, normal, &dots);
    struct hbk_ratio whole;
    const bool is_full =
        !reader->tuplet_is_marked && value != HBK_TUNE_NO_VALUE &&
        hbk_ratio_add(reader->tuplet_sum, event->length, &reader->tuplet_sum) &&
        hbk_ratio_mul(hbk_build_length(value, 0), hbk_ratio_whole(normal),
                      &whole) &&
        hbk_ratio_compare(reader->tuplet_sum, whole) >= 0;
    if (ends.stops > 0 || is_full) {
        reader->tuplet = HBK_TUNE_NONE;
    }
    count_depth(reader, ends.stops);
}
