#include "reader/work.h"

#include "base/messages.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/slide_name.h"

#include <math.h>
#include <string.h>

/* What is set before playing: slides, bits, crooks. */

enum {
    TRAVEL_MAX_MM = 3000,
    BIT_MAX_MM = 1000,
    CROOK_MAX_MM = 10000,
    RECEIVER_MAX_MM = 100, /* as far as any mouthpiece may enter */
    REMARK_COLUMNS_MAX = 300
};

bool hbk_work_travel(const struct hbk_fields *fields, double *travel_m)
{
    double travel = 0.0;
    const enum hbk_got got =
        hbk_work_mm(fields, "travel", -TRAVEL_MAX_MM, TRAVEL_MAX_MM, &travel);
    if (got == HBK_ABSENT && !hbk_fields_meant(fields, "travel")) {
        hbk_fields_fault(
            fields, HBK_H_NO_TRAVEL,
            "nothing says how far it pulls out; write its 'travel', "
            "in mm as the hand pulls it");
    } else if (got == HBK_GOT && travel <= 0.0) {
        hbk_value_fault(
            hbk_fields_ask(fields, "travel"), HBK_H_NO_TRAVEL,
            "a slide that pulls out %g mm does nothing; write how far "
            "it pulls out, in mm, or leave it out",
            travel * 1000.0);
    }
    if (got != HBK_GOT || travel <= 0.0) {
        return false;
    }
    *travel_m = travel;
    return true;
}

/* Refuses a name that an earlier entry has, or that means something else. */
void hbk_work_check_name(const struct hbk_fields *fields, const char *kind,
                         const char *name, const char *reserved, bool is_taken)
{
    if (name == NULL) {
        return;
    }
    if (strcmp(name, reserved) == 0) {
        hbk_value_fault(hbk_fields_ask(fields, kind), HBK_H_RESERVED_NAME,
                        "'%s' has a meaning of its own where the horn is set; "
                        "choose another name",
                        reserved);
    } else if (is_taken) {
        hbk_fields_fault(fields, HBK_H_SAME_NAME,
                         "it is listed twice; give each its own name");
    }
}

static void read_slide_valve(struct hbk_work *work,
                             const struct hbk_fields *fields, int *valve)
{
    const struct hbk_asked asked = hbk_fields_ask(fields, "valve");
    const char *name = NULL;
    if (asked.node == NULL || !hbk_value_control_name(asked, &name)) {
        return;
    }
    *valve = hbk_horn_find_control(work->horn, HBK_VALVE, name);
    if (*valve < 0) {
        hbk_value_fault(asked, HBK_H_NO_SUCH_VALVE,
                        "there is no valve %s; name a valve of this horn, or "
                        "leave it out for a slide of the main tube",
                        name);
    }
}

static void doubt_main_slide(const struct hbk_work *work,
                             const struct hbk_fields *fields,
                             const struct hbk_slide *slide)
{
    const int valve = hbk_slide_named_valve(work->horn, slide->name);
    if (slide->valve < 0 && valve >= 0 &&
        hbk_fields_ask(fields, "valve").node == NULL) {
        const char *const name = work->horn->controls[valve].name;
        hbk_fault_warn(fields->faults, fields->map->place, HBK_H_WHOSE_SLIDE,
                       "%s: without 'valve' this is a slide of the main tube; "
                       "write 'valve: %s' if it is that valve's, or give it "
                       "another name",
                       fields->words, name);
    }
}

/* Where the lengths of the file hold: within the travel. */
static void read_stands_out(const struct hbk_fields *fields,
                            struct hbk_slide *slide)
{
    double out = 0.0;
    if (hbk_work_mm(fields, "stands_out", 0.0, TRAVEL_MAX_MM, &out) !=
        HBK_GOT) {
        return;
    }
    if (slide->travel_m > 0.0 && out > slide->travel_m) {
        hbk_value_fault(
            hbk_fields_ask(fields, "stands_out"), HBK_H_STANDS_BEYOND,
            "it cannot stand out %g mm, for it pulls out %g mm; write "
            "how far it is out where the lengths of the file hold",
            out * 1000.0, slide->travel_m * 1000.0);
        return;
    }
    slide->stands_out_m = out;
}

static void read_slide(struct hbk_work *work,
                       const struct hbk_work_entry *entry,
                       struct hbk_slide *slide)
{
    static const char *const known[] = {"slide", "travel", "stands_out",
                                        "legs",  "at",     "diameter",
                                        "valve", "remove"};
    const struct hbk_fields *const fields = &entry->fields;
    hbk_fields_known(fields, known, sizeof(known) / sizeof(known[0]));
    *slide = (struct hbk_slide){.name = entry->name == NULL ? "?" : entry->name,
                                .at_m = NAN,
                                .diameter_m = NAN,
                                .valve = -1};
    (void)hbk_work_travel(fields, &slide->travel_m);
    read_stands_out(fields, slide);
    /* A shank is a single tube; other slides are bent and have two legs. */
    long legs = strcmp(slide->name, "shank") == 0 ? 1 : 2;
    (void)hbk_field_whole(fields, "legs", 1, 2, &legs);
    slide->legs = (int)legs;
    (void)hbk_work_at(work, fields, &slide->at_m);
    (void)hbk_work_mm(fields, "diameter", 1.0, 200.0, &slide->diameter_m);
    read_slide_valve(work, fields, &slide->valve);
    doubt_main_slide(work, fields, slide);
}

static void read_slides(struct hbk_work *work)
{
    const struct hbk_node *const list =
        hbk_work_list(work, "slides", HBK_SLIDES_MAX);
    if (list == NULL) {
        return;
    }
    struct hbk_slide *const slides =
        HBK_ARENA_ARRAY(work->top.arena, struct hbk_slide, list->n);
    size_t n = 0;
    for (size_t i = 0; i < list->n; i++) {
        struct hbk_work_entry entry;
        if (!hbk_work_entry(work, list, i, "slide", &entry)) {
            continue;
        }
        read_slide(work, &entry, &slides[n]);
        bool is_taken = false;
        for (size_t k = 0; k < n; k++) {
            is_taken = is_taken || strcmp(slides[k].name, slides[n].name) == 0;
        }
        hbk_work_check_name(&entry.fields, "slide", entry.name, "crook",
                            is_taken);
        n++;
    }
    work->horn->n_slides = n;
    work->horn->slides = slides;
}

static void read_bits(struct hbk_work *work)
{
    static const char *const known[] = {"adds"};
    const struct hbk_node *const list =
        hbk_work_list(work, "bits", HBK_LIST_MAX);
    if (list == NULL) {
        return;
    }
    struct hbk_bit *const bits =
        HBK_ARENA_ARRAY(work->top.arena, struct hbk_bit, list->n);
    for (size_t i = 0; i < list->n; i++) {
        struct hbk_fields fields = work->top;
        fields.map = &list->items[i];
        fields.words = hbk_arena_printf(fields.arena, "bit %zu", i + 1);
        const struct hbk_asked asked = {.node = fields.map,
                                        .owner = fields.words,
                                        .name = "",
                                        .faults = fields.faults};
        if (!hbk_value_map(asked, "{adds: 6}")) {
            continue;
        }
        hbk_fields_known(&fields, known, 1);
        if (hbk_work_mm(&fields, "adds", 0.1, BIT_MAX_MM, &bits[i].adds_m) ==
            HBK_ABSENT) {
            hbk_fields_missing(&fields, "adds", "its length, in mm");
        }
    }
    work->horn->n_bits = list->n;
    work->horn->bits = bits;
}

/* Where a crook goes in: a shank does so at the receiver. */
static void read_place(const struct hbk_work *work,
                       const struct hbk_fields *fields, struct hbk_crook *crook)
{
    if (hbk_work_at(work, fields, &crook->at_m) == HBK_GOT &&
        strcmp(crook->kind, "shank") == 0 &&
        crook->at_m * 1000.0 > RECEIVER_MAX_MM) {
        hbk_value_fault(hbk_fields_ask(fields, "at"), HBK_H_SHANK_PLACE,
                        "a shank goes in at the receiver, not %g mm down the "
                        "tube; leave 'at' out, or write 'kind: slide' for one "
                        "that is pulled out there",
                        crook->at_m * 1000.0);
    }
}

static void read_crook(struct hbk_work *work,
                       const struct hbk_work_entry *entry,
                       struct hbk_crook *crook)
{
    static const char *const known[] = {
        "crook",  "kind",       "adds",     "at",         "remark",
        "remove", "provenance", "diameter", "learn_from", "written_c4_sounds"};
    static const char *const kinds[] = {"crook", "shank", "slide"};
    const struct hbk_fields *const fields = &entry->fields;
    hbk_fields_known(fields, known, sizeof(known) / sizeof(known[0]));
    *crook = (struct hbk_crook){.name = entry->name == NULL ? "?" : entry->name,
                                .at_m = NAN,
                                .diameter_m = NAN};
    size_t kind = 0;
    bool learn_from = true;
    (void)hbk_field_choice(fields, "kind", kinds,
                           sizeof(kinds) / sizeof(kinds[0]), &kind);
    crook->kind = kinds[kind];
    if (hbk_work_mm(fields, "adds", 0.0, CROOK_MAX_MM, &crook->adds_m) ==
        HBK_ABSENT) {
        hbk_fields_missing(fields, "adds",
                           "the tube it adds, in mm; 0 for the one the horn "
                           "is described with");
    }
    read_place(work, fields, crook);
    (void)hbk_work_mm(fields, "diameter", 1.0, 200.0, &crook->diameter_m);
    (void)hbk_field_bool(fields, "learn_from", &learn_from);
    crook->not_to_learn_from = !learn_from;
    (void)hbk_field_text(fields, "remark", REMARK_COLUMNS_MAX, &crook->remark);
    crook->has_written_c4 =
        hbk_field_note(fields, "written_c4_sounds",
                       &crook->written_c4_sounds) == HBK_GOT;
    hbk_work_provenance(fields, "provenance", &crook->provenance);
}

static void read_crooks(struct hbk_work *work)
{
    const struct hbk_node *const list =
        hbk_work_list(work, "crooks", HBK_LIST_MAX);
    if (list == NULL) {
        return;
    }
    struct hbk_crook *const crooks =
        HBK_ARENA_ARRAY(work->top.arena, struct hbk_crook, list->n);
    size_t n = 0;
    for (size_t i = 0; i < list->n; i++) {
        struct hbk_work_entry entry;
        if (!hbk_work_entry(work, list, i, "crook", &entry)) {
            continue;
        }
        read_crook(work, &entry, &crooks[n]);
        bool is_taken = false;
        for (size_t k = 0; k < n; k++) {
            is_taken = is_taken || strcmp(crooks[k].name, crooks[n].name) == 0;
        }
        hbk_work_check_name(&entry.fields, "crook", entry.name, "none",
                            is_taken);
        n++;
    }
    work->horn->n_crooks = n;
    work->horn->crooks = crooks;
}

void hbk_work_slides(struct hbk_work *work)
{
    read_slides(work);
    read_bits(work);
    read_crooks(work);
}
