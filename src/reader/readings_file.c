#include "reader/readings_file.h"

#include "base/messages.h"
#include "base/text.h"
#include "music/pitch.h"
#include "reader/kind.h"
#include "reader/shown.h"

#include <string.h>

enum {
    SOURCE_COLUMNS_MAX = 1000,
    MOUTHPIECE_COLUMNS_MAX = 120,
    FINGERING_COLUMNS_MAX = 60,
    NAME_COLUMNS_MAX = 24,
    STUCK_COLUMNS_MAX = 200,
    PARTIAL_MAX = 16,
    SLIDES_MAX = 100
};

static const struct hbk_range sure_range = {0.5, 100.0, HBK_UNIT_CENTS};
static const struct hbk_range cents_range = {-300.0, 300.0, HBK_UNIT_CENTS};
static const struct hbk_range draw_range = {0.0, 3000.0, HBK_UNIT_MM};

/* What holds for a reading unless it says otherwise. */
struct usual {
    double a4_hz, temperature_c, uncertainty_cents;
    const struct hbk_reading_set *set;
};

/* Text that may look like a number: a fingering, the name of a crook. */
static bool read_label(struct hbk_asked asked, size_t most,
                       struct hbk_arena *arena, const char **text)
{
    const struct hbk_node *const node = asked.node;
    if (node->kind == HBK_SCALAR && !node->is_faulty && !node->is_quoted &&
        hbk_node_type(node) == HBK_IS_NUMBER && strlen(node->text) <= most) {
        *text = node->text;
        return true;
    }
    return hbk_value_text(asked, most, arena, text);
}

static void read_bits(const struct hbk_fields *fields,
                      const struct hbk_node *list, struct hbk_reading_set *set)
{
    struct hbk_asked asked = hbk_fields_ask(fields, "bits");
    if (!hbk_value_list(asked, 0, HBK_READING_BITS_MAX)) {
        return;
    }
    set->n_bits = 0;
    set->bits_place = list->place;
    for (size_t i = 0; i < list->n; i++) {
        long bit = 0;
        asked.node = &list->items[i];
        if (hbk_value_whole(asked, 1, HBK_READING_BITS_MAX, &bit)) {
            set->bits[set->n_bits++] = (unsigned)bit;
        }
    }
}

static void read_draw(const struct hbk_fields *fields,
                      const struct hbk_entry *entry,
                      struct hbk_reading_draw *draws, size_t *n)
{
    double mm = 0.0;
    if (hbk_field_number(fields, entry->name, draw_range, &mm) != HBK_GOT) {
        return;
    }
    size_t at = 0;
    while (at < *n && strcmp(draws[at].slide, entry->name) != 0) {
        at++;
    }
    *n += at == *n ? 1 : 0;
    draws[at] = (struct hbk_reading_draw){
        .slide = entry->name, .draw_m = mm / 1000.0, .place = entry->place};
}

/* Whether it is said in words: a slide of that name has a number. */
static bool is_words(const struct hbk_entry *entry, const char *name)
{
    return strcmp(entry->name, name) == 0 &&
           hbk_node_type(&entry->value) != HBK_IS_NUMBER;
}

/* Words for what is no slide: one of the other names of a set, misspelled. */
static bool is_misspelled(const struct hbk_fields *fields,
                          const struct hbk_entry *entry)
{
    static const char *const names[] = {"crook", "mouthpiece", "stuck"};
    const char *const meant =
        hbk_text_nearest(entry->name, names, sizeof(names) / sizeof(names[0]));
    if (entry->value.kind != HBK_SCALAR || meant == NULL ||
        hbk_node_type(&entry->value) != HBK_IS_TEXT) {
        return false;
    }
    char shown[HBK_SHOWN_SIZE];
    hbk_fault_add(fields->faults, entry->place, HBK_H_UNKNOWN_NAME,
                  "set: '%s' is unknown here; did you mean '%s'?",
                  hbk_shown(entry->name, shown), meant);
    return true;
}

/* One name of a set; `draws` are those of the set. */
static void read_entry(const struct hbk_fields *fields,
                       const struct hbk_entry *entry,
                       struct hbk_reading_set *set,
                       struct hbk_reading_draw *draws)
{
    const struct hbk_asked asked = hbk_fields_ask(fields, entry->name);
    const struct hbk_place place = entry->value.place;
    if (strcmp(entry->name, "crook") == 0) {
        if (read_label(asked, NAME_COLUMNS_MAX, fields->arena, &set->crook)) {
            set->crook_place = place;
        }
    } else if (is_words(entry, "mouthpiece")) {
        if (hbk_value_text(asked, NAME_COLUMNS_MAX, fields->arena,
                           &set->mouthpiece)) {
            set->mouthpiece_place = place;
        }
    } else if (is_words(entry, "stuck")) {
        if (hbk_value_text(asked, STUCK_COLUMNS_MAX, fields->arena,
                           &set->stuck)) {
            set->stuck_place = place;
        }
    } else if (strcmp(entry->name, "bits") == 0 &&
               entry->value.kind == HBK_LIST) {
        read_bits(fields, &entry->value, set);
    } else if (!is_misspelled(fields, entry)) {
        read_draw(fields, entry, draws, &set->n_draws);
    }
}

/* NULL in place of the word that means nothing. */
static const char *unless(const char *text, const char *nothing)
{
    return text != NULL && strcmp(text, nothing) == 0 ? NULL : text;
}

/*
 * {shank: 12, crook: A, bits: [1]}: what it names takes the place of what
 * held before. A slide may itself be called bits, stuck or mouthpiece; its
 * draw is a number, so that the two can be told apart.
 */
static const struct hbk_reading_set *
read_set(const struct hbk_fields *top, const struct hbk_reading_set *before)
{
    struct hbk_fields fields;
    if (hbk_field_map(top, "set", "{shank: 12, crook: none}", &fields) !=
        HBK_GOT) {
        return before;
    }
    struct hbk_reading_set *const set =
        HBK_ARENA_ARRAY(top->arena, struct hbk_reading_set, 1);
    *set = *before;
    struct hbk_reading_draw *const draws =
        HBK_ARENA_ARRAY(top->arena, struct hbk_reading_draw,
                        before->n_draws + fields.map->n + 1);
    if (before->n_draws > 0) {
        memcpy(draws, before->draws, before->n_draws * sizeof(*draws));
    }
    for (size_t i = 0; i < fields.map->n; i++) {
        read_entry(&fields, &fields.map->entries[i], set, draws);
    }
    set->crook = unless(set->crook, "none");
    set->mouthpiece = unless(set->mouthpiece, "own");
    if (set->stuck != NULL) {
        set->none_stuck = strcmp(set->stuck, "none") == 0;
    }
    set->stuck = unless(set->stuck, "none");
    set->draws = draws;
    return set;
}

/* What the file and each of its readings can say. */
static void read_usual(const struct hbk_fields *fields, struct usual *usual)
{
    (void)hbk_field_number(fields, "a4", HBK_RANGE_A4, &usual->a4_hz);
    (void)hbk_field_number(fields, "temperature", HBK_RANGE_AIR,
                           &usual->temperature_c);
    (void)hbk_field_number(fields, "uncertainty", sure_range,
                           &usual->uncertainty_cents);
    usual->set = read_set(fields, usual->set);
}

static void read_reading(const struct hbk_fields *fields, struct usual usual,
                         struct hbk_reading *reading)
{
    static const char *const known[] = {"note",        "fingering",  "cents",
                                        "partial",     "set",        "a4",
                                        "temperature", "uncertainty"};
    hbk_fields_known(fields, known, sizeof(known) / sizeof(known[0]));
    read_usual(fields, &usual);
    *reading = (struct hbk_reading){
        .place = fields->map->place,
        .a4_hz = usual.a4_hz,
        .temperature_c = usual.temperature_c,
        .uncertainty_cents = usual.uncertainty_cents,
        .set = usual.set,
    };
    if (hbk_field_note(fields, "note", &reading->note) == HBK_ABSENT) {
        hbk_fields_missing(fields, "note", "the written note you meant, as G4");
    }
    const struct hbk_asked press = hbk_fields_ask(fields, "fingering");
    if (press.node == NULL) {
        hbk_fields_missing(fields, "fingering",
                           "what was pressed, as \"1-3\", or 0 for nothing");
    } else if (read_label(press, FINGERING_COLUMNS_MAX, fields->arena,
                          &reading->fingering)) {
        reading->press = press.node->place;
    }
    if (hbk_field_number(fields, "cents", cents_range, &reading->cents) ==
        HBK_ABSENT) {
        hbk_fields_missing(fields, "cents",
                           "what the tuner showed, positive when sharp");
    }
    long partial = 0;
    if (hbk_field_whole(fields, "partial", 1, PARTIAL_MAX, &partial) ==
        HBK_GOT) {
        reading->partial = (unsigned)partial;
    }
}

static void read_list(const struct hbk_fields *top, const struct usual *usual,
                      struct hbk_readings *readings)
{
    const struct hbk_node *list = NULL;
    const enum hbk_got got =
        hbk_field_list(top, "readings", 1, HBK_READINGS_MAX, &list);
    if (got == HBK_ABSENT) {
        hbk_fields_missing(top, "readings",
                           "a line '- {note: G4, fingering: 0, cents: -8}' "
                           "for each note you read");
    }
    if (got != HBK_GOT) {
        return;
    }
    struct hbk_reading *const items =
        HBK_ARENA_ARRAY(top->arena, struct hbk_reading, list->n);
    for (size_t i = 0; i < list->n; i++) {
        const struct hbk_asked asked = {
            .node = &list->items[i],
            .owner = hbk_arena_printf(top->arena, "reading %zu", i + 1),
            .name = "",
            .faults = top->faults};
        if (!hbk_value_map(asked, "{note: G4, fingering: 0, cents: -8}")) {
            continue;
        }
        const struct hbk_fields fields = {.map = asked.node,
                                          .words = asked.owner,
                                          .arena = top->arena,
                                          .faults = top->faults};
        read_reading(&fields, *usual, &items[i]);
    }
    readings->n = list->n;
    readings->readings = items;
}

static void read_top(const struct hbk_fields *top,
                     struct hbk_readings *readings)
{
    static const char *const known[] = {
        "hornbook_readings", "source", "mouthpiece",
        "written_c4_sounds", "a4",     "temperature",
        "uncertainty",       "set",    "readings"};
    static const struct hbk_reading_set all_in = {.crook = NULL};
    hbk_kind_check(&hbk_kind_readings, top);
    hbk_fields_known(top, known, sizeof(known) / sizeof(known[0]));
    (void)hbk_field_text(top, "source", SOURCE_COLUMNS_MAX, &readings->source);
    (void)hbk_field_text(top, "mouthpiece", MOUTHPIECE_COLUMNS_MAX,
                         &readings->mouthpiece);
    readings->has_written_c4 =
        hbk_field_note(top, "written_c4_sounds",
                       &readings->written_c4_sounds) == HBK_GOT;
    struct usual usual = {
        .a4_hz = HBK_A4_USUAL_HZ,
        .temperature_c = 20.0,
        .uncertainty_cents = HBK_READING_UNCERTAINTY_CENTS,
        .set = &all_in,
    };
    read_usual(top, &usual);
    read_list(top, &usual, readings);
}

/* What is too much for any file is too much for this one. */
static void say_page(struct hbk_faults *faults)
{
    for (size_t i = 0; i < faults->count; i++) {
        const struct hbk_fault *const fault = &faults->items[i];
        if (fault->number == HBK_H_TOO_MANY_VALUES) {
            hbk_fault_add(
                faults,
                (struct hbk_place){fault->file, fault->line, fault->column},
                HBK_H_LIST_SIZE,
                "readings: a page holds %d at most; a horn needs no "
                "more than a few dozen",
                HBK_READINGS_MAX);
        }
    }
}

enum hbk_status hbk_readings_read(const char *path,
                                  struct hbk_readings *readings,
                                  struct hbk_faults *faults)
{
    *readings = (struct hbk_readings){.path = path};
    struct hbk_arena *const arena = &readings->arena;
    const size_t errors = faults->errors;
    struct hbk_node root = {0};
    const enum hbk_status status =
        hbk_kind_read(&hbk_kind_readings, path, arena, &root, faults);
    if (status != HBK_OK) {
        say_page(faults);
        return status;
    }
    const struct hbk_fields top = {
        .map = &root, .words = "", .arena = arena, .faults = faults};
    read_top(&top, readings);
    if (faults->errors > errors) {
        readings->n = 0;
        return HBK_ERR_INPUT;
    }
    return HBK_OK;
}
