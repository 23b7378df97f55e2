#include "tune/musicxml/musicxml_lay.h"

#include "base/messages.h"
#include "base/number.h"
#include "base/text.h"

#include <stdlib.h>
#include <string.h>

/*
 * What of a part with chords, several voices or staves is read: every measure
 * is laid out in time, its notes are parted into voices, and
 * hbk_line_pick() says which of them the line has. What is left is put
 * in the order of time, so that the reader sees one line of music.
 */

enum {
    VOICES_MAX = 64, /* in a part */
    STAVES_MAX = 9
};

/* One voice of the part, or what of it stands on one staff. */
struct voice {
    const char *name;
    int staff; /* of its first note, or that it is restricted to */
    const xmlNode *first;
    bool is_parted; /* by staff, for it is on two at once */
    bool has_notes;
};

struct voices {
    struct voice items[VOICES_MAX];
    size_t n;
};

/* ---- voices ---- */

static const char *voice_name(struct hbk_musicxml_reader *reader,
                              const xmlNode *node)
{
    const char *const name =
        hbk_xml_text(reader->arena, hbk_xml_child(node, "voice"));
    return name[0] == '\0' ? "1" : name;
}

static int staff_of(struct hbk_musicxml_reader *reader, const xmlNode *node)
{
    long staff = 1;
    (void)hbk_number_parse_whole(
        hbk_xml_text(reader->arena, hbk_xml_child(node, "staff")), 1,
        STAVES_MAX, &staff);
    return (int)staff;
}

/* The voice of a note; VOICES_MAX when there are more than that. */
static size_t voice_at(struct hbk_musicxml_reader *reader,
                       struct voices *voices, const xmlNode *node)
{
    const char *const name = voice_name(reader, node);
    const int staff = staff_of(reader, node);
    size_t v = 0;
    while (v < voices->n &&
           (strcmp(voices->items[v].name, name) != 0 ||
            (voices->items[v].is_parted && voices->items[v].staff != staff))) {
        v++;
    }
    if (v == voices->n && v < VOICES_MAX) {
        const bool is_parted =
            v > 0 && strcmp(voices->items[v - 1].name, name) == 0;
        voices->items[voices->n++] = (struct voice){.name = name,
                                                    .staff = staff,
                                                    .first = node,
                                                    .is_parted = is_parted};
    }
    return v;
}

/* Whether a voice plays on two staves at once in this measure. */
static bool is_on_two(struct hbk_musicxml_reader *reader,
                      const struct hbk_musicxml_measure *measure,
                      const char *name)
{
    struct hbk_ratio ends[STAVES_MAX + 1] = {{.den = 0}};
    for (size_t i = 0; i < measure->n_items; i++) {
        const struct hbk_musicxml_item *const item = &measure->items[i];
        if (!hbk_musicxml_is_note(item) || item->length.num == 0 ||
            strcmp(voice_name(reader, item->first), name) != 0) {
            continue;
        }
        const int staff = staff_of(reader, item->first);
        for (int s = 1; s <= STAVES_MAX; s++) {
            if (s != staff && ends[s].den > 0 &&
                hbk_ratio_compare(item->onset, ends[s]) < 0) {
                return true;
            }
        }
        if (!hbk_ratio_add(item->onset, item->length, &ends[staff])) {
            return false;
        }
    }
    return false;
}

static bool is_on_two_anywhere(struct hbk_musicxml_reader *reader,
                               const char *name)
{
    for (size_t m = 0; m < reader->n_measures; m++) {
        if (is_on_two(reader, &reader->measures[m], name)) {
            return true;
        }
    }
    return false;
}

/* From the top: by staff, then by number, or as they come. */
static int compare_voices(const void *a, const void *b)
{
    const struct voice *const left = a;
    const struct voice *const right = b;
    long numbers[2] = {0, 0};
    if (left->staff != right->staff) {
        return left->staff - right->staff;
    }
    if (hbk_number_parse_whole(left->name, 0, 9999, &numbers[0]) &&
        hbk_number_parse_whole(right->name, 0, 9999, &numbers[1])) {
        return (int)(numbers[0] - numbers[1]);
    }
    return strcmp(left->name, right->name);
}

static void list_voices(struct hbk_musicxml_reader *reader,
                        struct voices *voices)
{
    for (size_t m = 0; m < reader->n_measures; m++) {
        const struct hbk_musicxml_measure *const measure = &reader->measures[m];
        for (size_t i = 0; i < measure->n_items; i++) {
            if (!hbk_musicxml_is_note(&measure->items[i])) {
                continue;
            }
            const size_t before = voices->n;
            size_t v = voice_at(reader, voices, measure->items[i].first);
            if (v == before && v < voices->n) {
                voices->items[v].is_parted =
                    is_on_two_anywhere(reader, voices->items[v].name);
            }
            if (v < voices->n &&
                hbk_musicxml_notes_in(&measure->items[i]) > 0) {
                voices->items[v].has_notes = true;
            }
        }
    }
    qsort(voices->items, voices->n, sizeof(voices->items[0]), compare_voices);
}

/* Leaves the voice of that name alone; false with an error if none is. */
static bool keep_voice(struct hbk_musicxml_reader *reader,
                       struct voices *voices, const char *wanted)
{
    struct hbk_text list = {.arena = reader->arena};
    bool found = false;
    for (size_t v = 0; v < voices->n; v++) {
        struct voice *const voice = &voices->items[v];
        const bool is_it = strcmp(voice->name, wanted) == 0;
        if (voice->has_notes && list.length < 180 &&
            (v == 0 || strcmp(voice[-1].name, voice->name) != 0)) {
            hbk_text_addf(&list, "%s%.20s", list.length == 0 ? "" : ", ",
                          voice->name);
        }
        found = found || (is_it && voice->has_notes);
        voice->has_notes = voice->has_notes && is_it;
    }
    if (!found) {
        hbk_build_error(&reader->build,
                        (struct hbk_place){.file = reader->file},
                        HBK_H_NO_SUCH_VOICE,
                        "the part has no voice \"%.40s\"; it has %.200s",
                        wanted, hbk_text_string(&list));
    }
    return found;
}

/* ---- the line in one measure ---- */

/* One voice in a measure; what overlaps itself makes several. */
struct layer {
    size_t voice; /* of the part */
    struct hbk_ratio filled;
    double height; /* of its first note */
};

/* What stands on the staff that is read, as hbk_line_pick() takes it. */
struct lines {
    struct hbk_line_item *items;
    size_t *of; /* by line item: the item of the measure */
    size_t n, room, room_of;
    struct layer layers[HBK_LINE_VOICES_MAX];
    size_t n_layers;
};

/* The first layer of the voice that is free by then, or a new one. */
static size_t layer_of(struct lines *lines, size_t voice,
                       struct hbk_ratio onset)
{
    size_t k = 0;
    while (k < lines->n_layers &&
           (lines->layers[k].voice != voice ||
            hbk_ratio_compare(lines->layers[k].filled, onset) > 0)) {
        k++;
    }
    if (k == lines->n_layers && k < HBK_LINE_VOICES_MAX) {
        lines->layers[k] =
            (struct layer){.voice = voice, .filled = hbk_ratio_whole(0)};
        lines->n_layers++;
    }
    return k;
}

static void put_line_item(struct hbk_musicxml_reader *reader,
                          struct lines *lines,
                          const struct hbk_musicxml_item *item, size_t i,
                          size_t voice)
{
    const xmlNode *const node = item->first;
    const bool is_rest = hbk_xml_child(node, "rest") != NULL &&
                         hbk_xml_child(node, "cue") == NULL;
    const size_t notes = hbk_musicxml_notes_in(item);
    if (notes == 0 && !is_rest) {
        return;
    }
    const size_t layer = layer_of(lines, voice, item->onset);
    if (layer == HBK_LINE_VOICES_MAX ||
        !hbk_ratio_add(item->onset, item->length,
                       &lines->layers[layer].filled)) {
        return;
    }
    if (notes > 0 && lines->layers[layer].height == 0.0) {
        lines->layers[layer].height = hbk_musicxml_height(reader, node);
    }
    HBK_ARENA_GROW(reader->arena, lines->items, lines->n, lines->room);
    HBK_ARENA_GROW(reader->arena, lines->of, lines->n, lines->room_of);
    lines->items[lines->n] = (struct hbk_line_item){
        .voice = layer,
        .onset = item->onset,
        .length = item->length,
        .is_grace = hbk_xml_child(node, "grace") != NULL,
        .is_tuplet = hbk_xml_child(node, "time-modification") != NULL,
        .is_written = notes > 0 || !hbk_xml_says(node, "print-object", "no"),
        .notes = notes,
    };
    lines->of[lines->n++] = i;
}

/* Layers are numbered as they come; now from the uppermost. */
static void order_layers(struct lines *lines)
{
    size_t place[HBK_LINE_VOICES_MAX];
    for (size_t k = 0; k < lines->n_layers; k++) {
        place[k] = 0;
        for (size_t j = 0; j < lines->n_layers; j++) {
            const size_t other = lines->layers[j].voice;
            const double height = lines->layers[j].height;
            const bool is_above = height > lines->layers[k].height ||
                                  (height == lines->layers[k].height && j < k);
            place[k] += other < lines->layers[k].voice ||
                        (other == lines->layers[k].voice && is_above);
        }
    }
    for (size_t i = 0; i < lines->n; i++) {
        lines->items[i].voice = place[lines->items[i].voice];
    }
}

/* The notes and rests of the voices on a staff, with notes or without. */
static void list_lines(struct hbk_musicxml_reader *reader,
                       struct voices *voices,
                       const struct hbk_musicxml_measure *measure, int staff,
                       bool with_notes, struct lines *lines)
{
    for (size_t i = 0; i < measure->n_items; i++) {
        const struct hbk_musicxml_item *const item = &measure->items[i];
        const size_t v = hbk_musicxml_is_note(item)
                             ? voice_at(reader, voices, item->first)
                             : VOICES_MAX;
        if (v < voices->n && voices->items[v].staff == staff &&
            voices->items[v].has_notes == with_notes) {
            put_line_item(reader, lines, item, i, v);
        }
    }
    order_layers(lines);
}

static void pick(struct hbk_musicxml_reader *reader, struct voices *voices,
                 struct hbk_musicxml_measure *measure, int number,
                 struct hbk_tune_line *line)
{
    struct lines lines = {.n = 0};
    list_lines(reader, voices, measure, reader->staff, true, &lines);
    if (lines.n == 0) {
        /* The rests of a voice that never plays count where nothing else is. */
        list_lines(reader, voices, measure, reader->staff, false, &lines);
    }
    hbk_line_pick(number, lines.items, lines.n, line);
    for (size_t k = 0; k < lines.n; k++) {
        struct hbk_musicxml_item *const item = &measure->items[lines.of[k]];
        item->is_read = lines.items[k].is_read;
        item->is_cut = !hbk_ratio_equal(item->length, lines.items[k].length);
        item->length = item->is_read ? lines.items[k].length : item->length;
        item->node =
            item->is_read
                ? hbk_musicxml_note_of_rank(reader, item, lines.items[k].note)
                : item->first;
    }
}

/* How many lines a staff has where it has the most. */
static size_t lines_on(struct hbk_musicxml_reader *reader,
                       struct voices *voices, int staff)
{
    struct hbk_tune_line line = {.number = 1};
    for (size_t m = 0; m < reader->n_measures; m++) {
        struct lines lines = {.n = 0};
        list_lines(reader, voices, &reader->measures[m], staff, true, &lines);
        hbk_line_pick(1, lines.items, lines.n, &line);
    }
    return line.most;
}

/* Whether it is the uppermost voice with notes on its staff. */
static bool is_first_of_staff(const struct voices *voices, size_t v)
{
    size_t first = 0;
    while (first < v && (voices->items[first].staff != voices->items[v].staff ||
                         !voices->items[first].has_notes)) {
        first++;
    }
    return voices->items[v].has_notes && first == v;
}

/*
 * The staff that the line is on for the whole part, so that it keeps its
 * clef; lines count on through the staves. Returns its number there.
 */
static int choose_staff(struct hbk_musicxml_reader *reader,
                        struct voices *voices, int number)
{
    int left = number;
    reader->staff = 0;
    for (size_t v = 0; v < voices->n; v++) {
        const struct voice *const voice = &voices->items[v];
        if (!voice->has_notes || voice->staff == reader->staff) {
            continue;
        }
        if (number != HBK_TUNE_LINE_BOTTOM && reader->staff != 0) {
            const int above = (int)lines_on(reader, voices, reader->staff);
            if (left <= above) {
                break;
            }
            left -= above;
        }
        reader->staff = voice->staff;
    }
    reader->staff = reader->staff == 0 ? 1 : reader->staff;
    return left;
}

/* ---- in the order of time ---- */

static int compare_items(const void *a, const void *b)
{
    const struct hbk_musicxml_item *const left = a;
    const struct hbk_musicxml_item *const right = b;
    const int order = hbk_ratio_compare(left->onset, right->onset);
    const bool left_governs = hbk_xml_is(left->first, "attributes");
    const bool right_governs = hbk_xml_is(right->first, "attributes");
    if (order != 0) {
        return order;
    }
    if (left_governs != right_governs) {
        return left_governs ? -1 : 1;
    }
    return left->order < right->order ? -1 : 1;
}

static void keep_line(struct hbk_musicxml_measure *measure)
{
    size_t kept = 0;
    for (size_t i = 0; i < measure->n_items; i++) {
        const struct hbk_musicxml_item *const item = &measure->items[i];
        if (!hbk_musicxml_is_note(item) || item->is_read ||
            hbk_xml_child(item->first, "cue") != NULL) {
            measure->items[kept++] = measure->items[i];
        }
    }
    measure->n_items = kept;
    if (kept > 0) {
        qsort(measure->items, kept, sizeof(measure->items[0]), compare_items);
    }
}

/* The first note without pitch, or NULL; `bar` receives where it is. */
static const xmlNode *find_unpitched(const struct hbk_musicxml_reader *reader,
                                     const char **bar)
{
    for (size_t m = 0; m < reader->n_measures; m++) {
        const struct hbk_musicxml_measure *const measure = &reader->measures[m];
        for (size_t i = 0; i < measure->n_items; i++) {
            const xmlNode *const node = measure->items[i].first;
            if (hbk_musicxml_is_note(&measure->items[i]) &&
                hbk_xml_child(node, "unpitched") != NULL) {
                *bar = measure->number;
                return node;
            }
        }
    }
    return NULL;
}

/* Tells of notes without pitch; false when there are no others. */
static bool check_unpitched(struct hbk_musicxml_reader *reader,
                            const struct voices *voices)
{
    const char *bar = "";
    const xmlNode *const node = find_unpitched(reader, &bar);
    size_t v = 0;
    while (v < voices->n && !voices->items[v].has_notes) {
        v++;
    }
    if (node != NULL && v == voices->n) {
        hbk_build_error(&reader->build, hbk_xml_place(reader->file, node),
                        HBK_H_ONLY_UNPITCHED,
                        "there are only notes without pitch in it, as for a "
                        "drum; a horn has nothing to play");
        return false;
    }
    if (node != NULL) {
        hbk_build_warn(&reader->build, hbk_xml_place(reader->file, node),
                       HBK_H_UNPITCHED,
                       "bar %.20s: notes without pitch are passed over", bar);
    }
    return true;
}

bool hbk_musicxml_find_line(struct hbk_musicxml_reader *reader,
                            const struct hbk_tune_options *options)
{
    const char *const wanted = options == NULL ? NULL : options->voice;
    const int asked = options == NULL || options->line == 0 ? 1 : options->line;
    struct hbk_tune *const tune = reader->build.tune;
    struct voices voices = {.n = 0};
    for (size_t m = 0; m < reader->n_measures && !reader->build.failed; m++) {
        hbk_musicxml_lay_out(reader, &reader->measures[m]);
    }
    if (reader->build.failed) {
        return false;
    }
    list_voices(reader, &voices);
    if (!check_unpitched(reader, &voices) ||
        (wanted != NULL && !keep_voice(reader, &voices, wanted))) {
        return false;
    }
    const int number = choose_staff(reader, &voices, asked);
    tune->line.number = asked;
    for (size_t m = 0; m < reader->n_measures; m++) {
        pick(reader, &voices, &reader->measures[m], number, &tune->line);
        keep_line(&reader->measures[m]);
    }
    size_t sounding = 0;
    for (size_t v = 0; v < voices.n; v++) {
        tune->line.staves += is_first_of_staff(&voices, v) ? 1 : 0;
        sounding += voices.items[v].has_notes ? 1 : 0;
        tune->voice =
            voices.items[v].has_notes ? voices.items[v].name : tune->voice;
    }
    tune->voice = sounding == 1 ? tune->voice : "";
    return true;
}
