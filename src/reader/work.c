#include "reader/work.h"

#include "base/messages.h"
#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "reader/based_provenance.h"
#include "reader/shown.h"

#include <math.h>
#include <string.h>

enum { LABEL_COLUMNS_MAX = 24 };

const struct hbk_node *hbk_work_list(struct hbk_work *work, const char *name,
                                     size_t most)
{
    const struct hbk_node *list = NULL;
    (void)hbk_field_list(&work->top, name, 0, most, &list);
    return list;
}

bool hbk_work_entry(struct hbk_work *work, const struct hbk_node *list,
                    size_t i, const char *kind, struct hbk_work_entry *entry)
{
    struct hbk_arena *const arena = work->top.arena;
    const char *const form = hbk_arena_printf(arena, "{%s: ..., ...}", kind);
    const char *const number =
        hbk_arena_printf(arena, "%ss, entry %zu", kind, i + 1);
    const struct hbk_asked asked = {.node = &list->items[i],
                                    .owner = number,
                                    .name = "",
                                    .faults = work->top.faults};
    if (!hbk_value_map(asked, form)) {
        return false;
    }
    entry->name = NULL;
    entry->fields = (struct hbk_fields){.map = asked.node,
                                        .words = number,
                                        .arena = arena,
                                        .faults = work->top.faults};
    const struct hbk_asked name = hbk_fields_ask(&entry->fields, kind);
    if (name.node == NULL) {
        hbk_fields_missing(&entry->fields, kind,
                           "its number or name, so that it can be spoken of");
        return true;
    }
    const bool is_tube = strcmp(kind, "slide") == 0 ||
                         strcmp(kind, "crook") == 0 ||
                         strcmp(kind, "mouthpiece") == 0;
    const bool is_good =
        is_tube ? hbk_value_text(name, LABEL_COLUMNS_MAX, arena, &entry->name)
                : hbk_value_control_name(name, &entry->name);
    if (is_good) {
        entry->fields.words =
            hbk_arena_printf(arena, "%s %s", kind, entry->name);
    }
    return true;
}

/* A finger by another name for it; NULL for none that is known. */
static const char *finger_meant(const char *text, struct hbk_arena *arena)
{
    static const struct {
        const char *word, *finger;
    } words[] = {
        {"pinky", "little"},     {"pinkie", "little"}, {"small", "little"},
        {"fourth", "little"},    {"annular", "ring"},  {"third", "ring"},
        {"long", "middle"},      {"second", "middle"}, {"fore", "index"},
        {"forefinger", "index"}, {"pointer", "index"}, {"pointing", "index"},
        {"first", "index"},
    };
    const char *const gap = strchr(text, ' ');
    for (size_t i = 0; gap != NULL && i < sizeof(words) / sizeof(words[0]);
         i++) {
        const size_t length = strlen(words[i].word);
        const char *const rest = gap + 1 + length;
        if (strncmp(gap + 1, words[i].word, length) == 0 &&
            (rest[0] == '\0' || strcmp(rest, " finger") == 0)) {
            return hbk_arena_printf(arena, "%.*s %s", (int)(gap - text), text,
                                    words[i].finger);
        }
    }
    return NULL;
}

static bool add_finger(struct hbk_asked asked, struct hbk_control *control,
                       struct hbk_arena *arena)
{
    enum hbk_finger finger = HBK_L_THUMB;
    if (asked.node->is_faulty) {
        return false;
    }
    const char *const text =
        asked.node->kind == HBK_SCALAR ? asked.node->text : "";
    char shown[HBK_SHOWN_SIZE];
    hbk_shown(text, shown);
    if (!hbk_finger_parse(text, &finger)) {
        const char *names[HBK_FINGER_COUNT];
        for (int f = 0; f < HBK_FINGER_COUNT; f++) {
            names[f] = hbk_finger_name((enum hbk_finger)f);
        }
        const char *const meant = finger_meant(shown, arena);
        const char *const nearest = hbk_text_nearest(
            meant == NULL ? text : meant, names, HBK_FINGER_COUNT);
        hbk_value_fault(asked, HBK_H_UNKNOWN_FINGER,
                        "'%s' is no finger; %s%s%s left or right and thumb, "
                        "index, middle, ring or little",
                        shown, nearest == NULL ? "" : "did you mean '",
                        nearest == NULL ? "write" : nearest,
                        nearest == NULL ? "" : "'? Write");
        return false;
    }
    for (size_t i = 0; i < control->n_fingers; i++) {
        if (control->fingers[i] == finger) {
            hbk_value_fault(asked, HBK_H_FINGER_TWICE,
                            "the %s stands here twice; name each finger once",
                            shown);
            return false;
        }
    }
    control->fingers[control->n_fingers++] = finger;
    return true;
}

static void read_fingers(const struct hbk_fields *fields,
                         struct hbk_control *control)
{
    struct hbk_asked asked = hbk_fields_ask(fields, "finger");
    if (asked.node == NULL) {
        hbk_fields_fault(fields, HBK_H_NO_FINGER,
                         "no finger works it; write one, as in 'finger: right "
                         "ring', or several in [ ], the usual one first");
        return;
    }
    if (asked.node->kind != HBK_LIST) {
        (void)add_finger(asked, control, fields->arena);
        return;
    }
    if (!hbk_value_list(asked, 1, HBK_FINGERS_MAX)) {
        return;
    }
    const struct hbk_node *const list = asked.node;
    for (size_t i = 0; i < list->n; i++) {
        asked.node = &list->items[i];
        (void)add_finger(asked, control, fields->arena);
    }
}

void hbk_work_provenance(const struct hbk_fields *fields, const char *name,
                         enum hbk_provenance *provenance)
{
    static const char *const words[] = {"measured", "catalogue", "assumed",
                                        HBK_WORD_OF_PATTERN};
    static const enum hbk_provenance values[] = {HBK_MEASURED, HBK_CATALOGUE,
                                                 HBK_ASSUMED, HBK_OF_PATTERN};
    size_t choice = 0;
    if (hbk_field_choice(fields, name, words, 4, &choice) == HBK_GOT) {
        *provenance = values[choice];
    }
}

size_t hbk_work_add_control(struct hbk_work *work, enum hbk_control_kind kind,
                            const struct hbk_work_entry *entry)
{
    struct hbk_horn *const horn = work->horn;
    if (horn->n_controls == HBK_CONTROLS_MAX) {
        if (work->controls_overflow) {
            return HBK_CONTROLS_MAX;
        }
        work->controls_overflow = true;
        hbk_fields_fault(&entry->fields, HBK_H_TOO_MANY_CONTROLS,
                         "keys, valves and triggers are more than %d "
                         "together; leave some out",
                         HBK_CONTROLS_MAX);
        return HBK_CONTROLS_MAX;
    }
    if (entry->name != NULL &&
        hbk_horn_find_control(horn, kind, entry->name) >= 0) {
        hbk_fields_fault(&entry->fields, HBK_H_SAME_CONTROL,
                         "it is listed twice; give each its own number");
    }
    const size_t index = horn->n_controls++;
    struct hbk_control *const control = &horn->controls[index];
    *control =
        (struct hbk_control){.kind = kind,
                             .name = entry->name == NULL ? "?" : entry->name,
                             .stroke_m = NAN};
    work->control_fields[index] = entry->fields;
    read_fingers(&entry->fields, control);
    (void)hbk_field_bool(&entry->fields, "alone", &control->alone);
    hbk_work_provenance(&entry->fields, "provenance", &control->provenance);
    return index;
}

struct hbk_site *hbk_work_add_site(struct hbk_work *work,
                                   const struct hbk_fields *fields,
                                   size_t control, const struct hbk_site *site)
{
    struct hbk_horn *const horn = work->horn;
    if (horn->n_sites == HBK_SITES_MAX) {
        if (work->sites_overflow) {
            return NULL;
        }
        work->sites_overflow = true;
        hbk_fields_fault(fields, HBK_H_TOO_MANY_SITES,
                         "the horn has more than %d holes and loops; leave "
                         "some out",
                         HBK_SITES_MAX);
        return NULL;
    }
    const size_t index = horn->n_sites++;
    work->site_fields[index] = *fields;
    work->site_control[index] = control;
    struct hbk_site *const added = &horn->sites[index];
    *added = *site;
    if (added->n_terms == 0) {
        added->n_terms = 1;
        added->terms[0] = UINT32_C(1) << control;
    }
    return added;
}

enum hbk_got hbk_work_mm(const struct hbk_fields *fields, const char *name,
                         double low_mm, double high_mm, double *metres)
{
    const struct hbk_range range = {low_mm, high_mm, HBK_UNIT_MM};
    double mm = 0.0;
    const enum hbk_got got = hbk_field_number(fields, name, range, &mm);
    if (got == HBK_GOT) {
        *metres = mm / 1000.0;
    }
    return got;
}

enum hbk_got hbk_work_at(const struct hbk_work *work,
                         const struct hbk_fields *fields, double *at_m)
{
    double at = NAN;
    const enum hbk_got got =
        hbk_work_mm(fields, "at", -HBK_TUBE_MAX_MM, HBK_TUBE_MAX_MM, &at);
    if (got != HBK_GOT) {
        return got;
    }
    if (at < 0.0 || at >= work->tube_m) {
        hbk_value_fault(hbk_fields_ask(fields, "at"), HBK_H_OUTSIDE_TUBE,
                        "%g mm is outside the tube; 'at' counts along the "
                        "axis from the mouthpiece rim towards the bell",
                        at * 1000.0);
        return HBK_REFUSED;
    }
    *at_m = at;
    return HBK_GOT;
}

double hbk_work_bore_radius(const struct hbk_work *work, double at_m)
{
    const struct hbk_bore *const bore = &work->horn->bore;
    double widest = 0.0;
    for (size_t i = 1; i < bore->n_stations; i++) {
        const struct hbk_station *const a = &bore->stations[i - 1];
        const struct hbk_station *const b = &bore->stations[i];
        if (at_m < a->x_m || at_m > b->x_m) {
            continue;
        }
        const double length = b->x_m - a->x_m;
        const double share = length > 0.0 ? (at_m - a->x_m) / length : 0.0;
        const double here = a->radius_m + (share * (b->radius_m - a->radius_m));
        widest = fmax(widest, here);
    }
    return widest;
}
