#include "tune/musicxml/score.h"

#include "base/messages.h"
#include "base/number.h"
#include "tune/melody/build_marks.h"
#include "tune/melody/build_often.h"
#include "tune/musicxml/musicxml_tuplet.h"
#include "tune/musicxml/musicxml_type.h"

#include <string.h>

/* Where none are given, from the first note that is drawn as it lasts. */
static bool guess_divisions(struct hbk_musicxml_reader *reader,
                            const xmlNode *note, struct hbk_ratio count)
{
    const int value = hbk_musicxml_value(
        hbk_xml_text(reader->arena, hbk_xml_child(note, "type")));
    const bool is_plain = value != HBK_TUNE_NO_VALUE &&
                          hbk_xml_child(note, "dot") == NULL &&
                          hbk_xml_child(note, "time-modification") == NULL;
    struct hbk_ratio quarters;
    return is_plain && count.num > 0 &&
           hbk_ratio_mul(hbk_build_length(value, 0), hbk_ratio_whole(4),
                         &quarters) &&
           hbk_ratio_div(count, quarters, &reader->divisions);
}

bool hbk_musicxml_duration(struct hbk_musicxml_reader *reader,
                           const xmlNode *node, struct hbk_ratio *duration)
{
    const xmlNode *const child = hbk_xml_child(node, "duration");
    const char *const text = hbk_xml_text(reader->arena, child);
    const struct hbk_place place = hbk_xml_place(reader->file, node);
    struct hbk_ratio count;
    struct hbk_ratio whole;
    if (!hbk_ratio_parse(text, &count) || count.num < 0) {
        hbk_build_error(&reader->build, place, HBK_H_XML_NUMBER,
                        "bar %.20s: %s has no duration that can be read",
                        reader->bar, (const char *)node->name);
        return false;
    }
    if (reader->divisions.num == 0 && !guess_divisions(reader, node, count)) {
        hbk_build_error(&reader->build, place, HBK_H_XML_NUMBER,
                        "bar %.20s: a duration comes before the divisions are "
                        "given",
                        reader->bar);
        return false;
    }
    if (!hbk_ratio_mul(reader->divisions, hbk_ratio_whole(4), &whole) ||
        !hbk_ratio_div(count, whole, duration)) {
        hbk_build_error(&reader->build, place, HBK_H_NOTE_TIME,
                        "bar %.20s: the duration cannot be kept exactly",
                        reader->bar);
        return false;
    }
    return true;
}

/* Three sharps or flats are one or two of the next step. */
static struct hbk_spelling spell(int step, int alter, int octave)
{
    static const int width[] = {2, 2, 1, 2, 2, 2, 1}; /* C D, D E, ... */
    if (alter > 2) {
        alter -= width[step];
        octave += step == 6 ? 1 : 0;
        step = (step + 1) % 7;
    } else if (alter < -2) {
        step = (step + 6) % 7;
        octave -= step == 6 ? 1 : 0;
        alter += width[step];
    }
    return (struct hbk_spelling){
        .step = step, .alter = alter, .octave = octave};
}

static bool read_pitch(struct hbk_musicxml_reader *reader, const xmlNode *node,
                       struct hbk_tune_event *event)
{
    static const char steps[] = "CDEFGAB";
    const xmlNode *const pitch = hbk_xml_child(node, "pitch");
    const char *const step =
        hbk_xml_text(reader->arena, hbk_xml_child(pitch, "step"));
    const char *const alter =
        hbk_xml_text(reader->arena, hbk_xml_child(pitch, "alter"));
    const char *const at = step[0] == '\0' ? NULL : strchr(steps, step[0]);
    long octave = 0;
    struct hbk_ratio semitones = hbk_ratio_whole(0);
    const bool good =
        at != NULL && step[1] == '\0' &&
        hbk_number_parse_whole(
            hbk_xml_text(reader->arena, hbk_xml_child(pitch, "octave")), 0, 9,
            &octave) &&
        (alter[0] == '\0' || hbk_ratio_parse(alter, &semitones)) &&
        hbk_ratio_value(semitones) >= -3.0 && hbk_ratio_value(semitones) <= 3.0;
    if (good) {
        const int64_t halves = (2 * semitones.num) / semitones.den;
        event->spelling =
            spell((int)(at - steps), (int)(halves / 2), (int)octave);
        event->note = hbk_spelling_note(event->spelling);
        if (halves / 2 != event->spelling.alter) {
            hbk_build_left_out(&reader->build, "triple sharp or flat",
                               "triple sharps and flats");
        }
    }
    if (!good || event->note < 0 || event->note > HBK_NOTE_MAX) {
        hbk_build_error(&reader->build, event->place, HBK_H_XML_PITCH,
                        "bar %.20s: this pitch cannot be read: step A to G, "
                        "alter -3 to 3, octave 0 to 9",
                        reader->bar);
        return false;
    }
    if (semitones.den != 1) {
        const char *const one = hbk_arena_printf(
            reader->arena,
            "a note is altered by %.20s semitones and is read as its neighbor",
            alter);
        hbk_build_often(&reader->build, event->place, HBK_H_MICROTONE, one,
                        "altered by parts of a semitone and are read as their "
                        "neighbors");
    }
    return true;
}

static unsigned ornaments_of(struct hbk_arena *arena, const xmlNode *ornaments)
{
    static const struct {
        const char *name;
        unsigned bit;
    } names[] = {
        {"trill-mark", HBK_TUNE_TRILL},
        {"turn", HBK_TUNE_TURN},
        {"delayed-turn", HBK_TUNE_TURN},
        {"vertical-turn", HBK_TUNE_TURN},
        {"inverted-turn", HBK_TUNE_INVERTED_TURN},
        {"delayed-inverted-turn", HBK_TUNE_INVERTED_TURN},
        {"inverted-vertical-turn", HBK_TUNE_INVERTED_TURN},
        {"mordent", HBK_TUNE_MORDENT},
        {"inverted-mordent", HBK_TUNE_UPPER_MORDENT},
        {"other-ornament", HBK_TUNE_ROLL},
    };
    static const struct {
        const char *name;
        unsigned bit;
    } signs[] = {{"sharp", HBK_TUNE_SIGN_SHARP},
                 {"flat", HBK_TUNE_SIGN_FLAT},
                 {"natural", HBK_TUNE_SIGN_NATURAL},
                 {"double-sharp", HBK_TUNE_SIGN_DOUBLE_SHARP},
                 {"sharp-sharp", HBK_TUNE_SIGN_DOUBLE_SHARP},
                 {"flat-flat", HBK_TUNE_SIGN_DOUBLE_FLAT}};
    unsigned bits = 0;
    for (const xmlNode *at = ornaments == NULL ? NULL : ornaments->children;
         at != NULL; at = at->next) {
        if (hbk_musicxml_is_strange(arena, at)) {
            continue;
        }
        for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
            bits |= hbk_xml_is(at, names[i].name) ? names[i].bit : 0;
        }
        const char *const sign =
            hbk_xml_is(at, "accidental-mark") ? hbk_xml_text(arena, at) : "";
        for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
            bits |= strcmp(sign, signs[i].name) == 0 ? signs[i].bit : 0;
        }
    }
    return bits;
}

static unsigned articulations_of(struct hbk_arena *arena,
                                 const xmlNode *notations)
{
    static const struct {
        const char *name;
        unsigned bits;
    } names[] = {
        {"staccato", HBK_TUNE_STACCATO},
        {"staccatissimo", HBK_TUNE_STACCATISSIMO},
        {"spiccato", HBK_TUNE_STACCATISSIMO},
        {"tenuto", HBK_TUNE_TENUTO},
        {"detached-legato", HBK_TUNE_TENUTO | HBK_TUNE_STACCATO},
        {"accent", HBK_TUNE_ACCENT},
        {"strong-accent", HBK_TUNE_MARCATO},
        {"breath-mark", HBK_TUNE_BREATH},
        {"caesura", HBK_TUNE_CAESURA},
    };
    unsigned bits = 0;
    const xmlNode *const group = hbk_xml_child(notations, "articulations");
    for (const xmlNode *at = group == NULL ? NULL : group->children; at != NULL;
         at = at->next) {
        for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
            bits |= hbk_xml_is(at, names[i].name) ? names[i].bits : 0;
        }
    }
    bits |= hbk_xml_child(notations, "fermata") != NULL ? HBK_TUNE_FERMATA : 0;
    return bits | ornaments_of(arena, hbk_xml_child(notations, "ornaments"));
}

/* The first that is neither an alternate nor a substitution. */
static void read_fingering(struct hbk_musicxml_reader *reader,
                           const xmlNode *technical,
                           struct hbk_tune_event *event)
{
    for (const xmlNode *at = hbk_xml_child(technical, "fingering"); at != NULL;
         at = hbk_xml_next(at, "fingering")) {
        if (event->fingering == NULL && !hbk_xml_says(at, "alternate", "yes") &&
            !hbk_xml_says(at, "substitution", "yes")) {
            event->fingering = hbk_xml_text(reader->arena, at);
        }
    }
}

/* What one <notations> says; starts and stops of tuplets are counted. */
static void read_notations(struct hbk_musicxml_reader *reader,
                           const xmlNode *notations,
                           struct hbk_tune_event *event,
                           struct hbk_musicxml_ends *ends)
{
    for (const xmlNode *at = notations->children; at != NULL; at = at->next) {
        const bool start = hbk_xml_says(at, "type", "start");
        const bool stop = hbk_xml_says(at, "type", "stop");
        if (hbk_xml_is(at, "slur")) {
            event->slur_starts += start;
            event->slur_stops += stop;
        } else if (hbk_xml_is(at, "tuplet")) {
            ends->starts += start;
            ends->stops += stop;
        } else if (hbk_xml_is(at, "tied")) {
            event->tie_start = event->tie_start || start;
            event->tie_stop = event->tie_stop || stop;
        }
    }
    event->articulation |= articulations_of(reader->arena, notations);
    for (const xmlNode *technical = hbk_xml_child(notations, "technical");
         technical != NULL; technical = hbk_xml_next(technical, "technical")) {
        read_fingering(reader, technical, event);
    }
}

/* The outermost beam; one that is known already stays. */
static void read_beam(struct hbk_musicxml_reader *reader, const xmlNode *node,
                      struct hbk_tune_event *event)
{
    for (const xmlNode *beam = hbk_xml_child(node, "beam");
         beam != NULL && event->kind == HBK_TUNE_NOTE;
         beam = hbk_xml_next(beam, "beam")) {
        const char *const text = hbk_xml_text(reader->arena, beam);
        if (hbk_xml_has(beam, "number") && !hbk_xml_says(beam, "number", "1")) {
            continue;
        }
        event->beam = strcmp(text, "begin") == 0      ? HBK_TUNE_BEAM_BEGIN
                      : strcmp(text, "continue") == 0 ? HBK_TUNE_BEAM_CONTINUE
                      : strcmp(text, "end") == 0      ? HBK_TUNE_BEAM_END
                                                      : HBK_TUNE_BEAM_NONE;
    }
}

static void read_drawing(struct hbk_musicxml_reader *reader,
                         const xmlNode *node, struct hbk_tune_event *event)
{
    const xmlNode *const type = hbk_xml_child(node, "type");
    if (type != NULL) {
        event->value = hbk_musicxml_value(hbk_xml_text(reader->arena, type));
    }
    for (const xmlNode *dot = hbk_xml_child(node, "dot");
         dot != NULL && event->value != HBK_TUNE_NO_VALUE && event->dots < 4;
         dot = hbk_xml_next(dot, "dot")) {
        event->dots++;
    }
    const xmlNode *const sign = hbk_xml_child(node, "accidental");
    if (sign != NULL) {
        event->accidental = hbk_xml_says(sign, "editorial", "yes")
                                ? HBK_TUNE_EDITORIAL
                            : hbk_xml_says(sign, "cautionary", "yes") ||
                                    hbk_xml_says(sign, "parentheses", "yes")
                                ? HBK_TUNE_CAUTIONARY
                                : HBK_TUNE_PRINTED;
    }
    read_beam(reader, node, event);
}

static void read_ties(const xmlNode *node, struct hbk_tune_event *event)
{
    const xmlNode *tie = hbk_xml_child(node, "tie");
    if (tie != NULL) {
        event->tie_start = false; /* <tie> sounds, <tied> is only drawn */
        event->tie_stop = false;
    }
    for (; tie != NULL; tie = hbk_xml_next(tie, "tie")) {
        event->tie_start =
            event->tie_start || hbk_xml_says(tie, "type", "start");
        event->tie_stop = event->tie_stop || hbk_xml_says(tie, "type", "stop");
    }
}

static bool add(struct hbk_musicxml_reader *reader, xmlNode *node,
                struct hbk_tune_event event)
{
    struct hbk_tune *const tune = reader->build.tune;
    if (!hbk_build_add(&reader->build, event)) {
        return false;
    }
    HBK_ARENA_GROW(reader->arena, reader->notes, tune->n_events - 1,
                   reader->room_notes);
    reader->notes[tune->n_events - 1] = node;
    return true;
}

bool hbk_musicxml_fill(struct hbk_musicxml_reader *reader,
                       struct hbk_ratio until, struct hbk_place place)
{
    /* What rounding of a writing program leaves is no rest to read. */
    const struct hbk_ratio least = {.num = 1, .den = 64};
    const struct hbk_tune_bar *const bar = hbk_build_last_bar(&reader->build);
    struct hbk_tune_event event = hbk_build_blank(HBK_TUNE_REST, place);
    if (hbk_ratio_compare(reader->filled, until) >= 0) {
        return true;
    }
    if (!hbk_ratio_sub(until, reader->filled, &event.length)) {
        return false;
    }
    event.hidden = hbk_ratio_compare(event.length, least) < 0;
    event.whole_bar = bar->count == 0 && !bar->implicit &&
                      hbk_ratio_equal(until, reader->measure->reach);
    reader->filled = until;
    reader->tuplet = HBK_TUNE_NONE;
    return add(reader, NULL, event);
}

/* What the other notes of a chord say of it as a whole. */
static void read_mates(struct hbk_musicxml_reader *reader,
                       const struct hbk_musicxml_item *item,
                       struct hbk_tune_event *event,
                       struct hbk_musicxml_ends *ends)
{
    for (const xmlNode *node = item->first; node != NULL;
         node = hbk_xml_next(node, "note")) {
        if (node != item->first && hbk_xml_child(node, "chord") == NULL) {
            return;
        }
        struct hbk_tune_event mate = hbk_build_blank(event->kind, event->place);
        struct hbk_musicxml_ends own = {0};
        for (const xmlNode *at = hbk_xml_child(node, "notations");
             node != item->node && at != NULL;
             at = hbk_xml_next(at, "notations")) {
            read_notations(reader, at, &mate, &own);
        }
        ends->starts = own.starts > ends->starts ? own.starts : ends->starts;
        ends->stops = own.stops > ends->stops ? own.stops : ends->stops;
        event->articulation |= mate.articulation;
        event->slur_starts =
            event->slur_starts == 0 ? mate.slur_starts : event->slur_starts;
        event->slur_stops =
            event->slur_stops == 0 ? mate.slur_stops : event->slur_stops;
    }
}

/* A tie to a note of a chord that the line does not have ends there. */
static void end_tie(struct hbk_musicxml_reader *reader,
                    const struct hbk_tune_event *event, bool is_chord)
{
    const struct hbk_tune *const tune = reader->build.tune;
    size_t k = tune->n_events;
    while (k > 0 && tune->events[k - 1].kind == HBK_TUNE_GRACE) {
        k--;
    }
    struct hbk_tune_event *const last = k == 0 ? NULL : &tune->events[k - 1];
    if (last != NULL && last->tie_start && (is_chord || reader->was_chord) &&
        last->note != event->note) {
        last->tie_start = false;
    }
    reader->was_chord = is_chord;
}

static bool is_chord(const struct hbk_musicxml_item *item)
{
    const xmlNode *const next = hbk_xml_next(item->first, "note");
    return next != NULL && hbk_xml_child(next, "chord") != NULL;
}

static void read_signs(struct hbk_musicxml_reader *reader,
                       const struct hbk_musicxml_item *item,
                       struct hbk_tune_event *event,
                       struct hbk_musicxml_ends *ends)
{
    const xmlNode *const node = item->node;
    for (const xmlNode *notations = hbk_xml_child(node, "notations");
         notations != NULL; notations = hbk_xml_next(notations, "notations")) {
        read_notations(reader, notations, event, ends);
    }
    if (is_chord(item)) {
        read_mates(reader, item, event, ends);
    }
    if (item->first != node && event->kind == HBK_TUNE_NOTE) {
        read_beam(reader, item->first, event);
    }
    read_drawing(reader, node, event);
    read_ties(node, event);
    if (event->kind != HBK_TUNE_NOTE) {
        event->tie_start = false;
        event->tie_stop = false;
    }
    if (item->is_cut) {
        event->value = HBK_TUNE_NO_VALUE;
        event->dots = 0;
        event->beam = HBK_TUNE_BEAM_NONE;
        event->tie_start = false;
    }
}

static bool add_note(struct hbk_musicxml_reader *reader,
                     const struct hbk_musicxml_item *item)
{
    xmlNode *const node = item->node;
    const xmlNode *const grace = hbk_xml_child(node, "grace");
    const xmlNode *const rest = hbk_xml_child(node, "rest");
    struct hbk_tune_event event =
        hbk_build_blank(rest != NULL    ? HBK_TUNE_REST
                        : grace != NULL ? HBK_TUNE_GRACE
                                        : HBK_TUNE_NOTE,
                        hbk_xml_place(reader->file, node));
    if (!hbk_musicxml_fill(reader, reader->cursor, event.place) ||
        (rest == NULL && !read_pitch(reader, node, &event))) {
        return false;
    }
    event.length = item->length;
    event.slash = hbk_xml_says(grace, "slash", "yes");
    event.whole_bar = hbk_xml_says(rest, "measure", "yes");
    struct hbk_musicxml_ends ends = {0};
    read_signs(reader, item, &event, &ends);
    if (event.kind == HBK_TUNE_GRACE) {
        return add(reader, node, event);
    }
    end_tie(reader, &event, is_chord(item));
    hbk_musicxml_put_in_tuplet(reader, node, &event, ends);
    return add(reader, node, event) &&
           hbk_ratio_add(reader->cursor, item->length, &reader->filled);
}

void hbk_musicxml_note(struct hbk_musicxml_reader *reader,
                       const struct hbk_musicxml_item *item)
{
    if (!add_note(reader, item) && !reader->build.failed) {
        hbk_build_error(&reader->build, hbk_xml_place(reader->file, item->node),
                        HBK_H_NOTE_TIME,
                        "bar %.20s: the durations do not add up to a time "
                        "that can be kept exactly",
                        reader->bar);
    }
}
