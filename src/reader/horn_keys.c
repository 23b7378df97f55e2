#include "reader/work.h"

#include "base/messages.h"
#include "horn/about.h"
#include "horn/horn.h"

#include <math.h>
#include <string.h>

/* Keys and the holes they work. */

enum { OPENS_MAX = 8 };

static const char *const rests[] = {"open", "closed"};

/* Holes nearer to each other than this are one, m. */
#define SAME_PLACE_M 0.00005

static bool has(const struct hbk_fields *fields, const char *name)
{
    return hbk_fields_find(fields, name) != NULL;
}

static bool describes_hole(const struct hbk_fields *fields)
{
    return has(fields, "raises") || has(fields, "from_bell") ||
           has(fields, "at");
}

/* Whether a misspelled name was meant to, and was told so. */
static bool means_hole(const struct hbk_fields *fields)
{
    return hbk_fields_meant(fields, "raises") ||
           hbk_fields_meant(fields, "from_bell") ||
           hbk_fields_meant(fields, "at") || hbk_fields_meant(fields, "opens");
}

static void check_place(const struct hbk_work *work, struct hbk_asked asked,
                        struct hbk_site *site)
{
    const double from_bell = site->hole.from_bell_m;
    if (from_bell <= 0.0) {
        hbk_value_fault(asked, HBK_H_HOLE_BEYOND_BELL,
                        "the hole is beyond the bell; %s",
                        asked.name[0] == 'f'
                            ? "'from_bell' counts from the bell rim towards "
                              "the mouthpiece, and is above 0"
                            : "'at' counts from the mouthpiece rim, and is "
                              "less than the length of the tube");
        site->hole.from_bell_m = NAN;
    } else if (from_bell >= work->tube_m) {
        hbk_value_fault(asked, HBK_H_HOLE_BEYOND_MOUTHPIECE,
                        "the hole is beyond the mouthpiece, on a tube of "
                        "%s%.0f mm; %s",
                        work->tube_is_bound ? "at most " : "",
                        work->tube_m * 1000.0,
                        asked.name[0] == 'f'
                            ? "'from_bell' counts along the axis from the "
                              "bell rim"
                            : "'at' counts from the mouthpiece rim, and is "
                              "above 0");
        site->hole.from_bell_m = NAN;
    }
}

static void read_place(const struct hbk_work *work,
                       const struct hbk_fields *fields, struct hbk_site *site)
{
    struct hbk_hole *const hole = &site->hole;
    if (has(fields, "from_bell") && has(fields, "at")) {
        hbk_value_fault(hbk_fields_ask(fields, "at"), HBK_H_TWO_PLACES,
                        "the place is given by 'from_bell' already; keep one "
                        "of the two");
        return;
    }
    if (hbk_work_mm(fields, "from_bell", -HBK_TUBE_MAX_MM, HBK_TUBE_MAX_MM,
                    &hole->from_bell_m) == HBK_GOT) {
        check_place(work, hbk_fields_ask(fields, "from_bell"), site);
    }
    double at = NAN;
    if (hbk_work_mm(fields, "at", -HBK_TUBE_MAX_MM, HBK_TUBE_MAX_MM, &at) ==
        HBK_GOT) {
        if (work->tube_is_bound) {
            hbk_value_fault(hbk_fields_ask(fields, "at"),
                            HBK_H_PLACE_NEEDS_LENGTH,
                            "the length of the tube is not given, so its "
                            "distance from the bell is unknown; write "
                            "'from_bell'");
            return;
        }
        hole->from_bell_m = work->tube_m - at;
        check_place(work, hbk_fields_ask(fields, "at"), site);
    }
    if (work->horn->model == HBK_MODEL_BORE) {
        site->at_m = work->tube_m - hole->from_bell_m;
    } else if (!isnan(hole->from_bell_m)) {
        site->at_m = at;
    }
}

static void read_raises(const struct hbk_fields *fields, bool stands_open,
                        struct hbk_hole *hole)
{
    static const struct hbk_range range = {-36.0, 36.0, HBK_UNIT_SEMITONES};
    double raises = NAN;
    if (hbk_field_number(fields, "raises", range, &raises) != HBK_GOT) {
        return;
    }
    const struct hbk_asked asked = hbk_fields_ask(fields, "raises");
    if (raises == 0.0) {
        hbk_value_fault(asked, HBK_H_KEY_WORKS_NOTHING,
                        "a key that raises by 0 semitones works nothing; "
                        "write what it does, or leave the key out");
    } else if (stands_open && raises > 0.0) {
        hbk_value_fault(asked, HBK_H_OPEN_KEY_RAISES,
                        "closing a hole that is open at rest can only lower; "
                        "write a negative number, or 'rest: closed'");
    } else if (!stands_open && raises < 0.0) {
        hbk_value_fault(asked, HBK_H_SHUT_KEY_LOWERS,
                        "opening a hole that is closed at rest can only raise; "
                        "write a positive number, or 'rest: open'");
    } else {
        hole->raises = raises;
    }
}

static void read_sizes(const struct hbk_fields *fields, struct hbk_hole *hole)
{
    static const char *const words[] = {"auto", "cylinder", "none", "wide"};
    static const enum hbk_flange flanges[] = {
        HBK_FLANGE_AUTO, HBK_FLANGE_CYLINDER, HBK_FLANGE_NONE, HBK_FLANGE_WIDE};
    (void)hbk_work_mm(fields, "diameter", 1.0, 200.0, &hole->diameter_m);
    (void)hbk_work_mm(fields, "chimney", 0.0, 200.0, &hole->chimney_m);
    (void)hbk_work_mm(fields, "wall", 0.1, 20.0, &hole->wall_m);
    (void)hbk_work_mm(fields, "pad_diameter", 1.0, 300.0,
                      &hole->pad_diameter_m);
    (void)hbk_work_mm(fields, "pad_lift", 0.1, 100.0, &hole->pad_lift_m);
    if (hole->pad_diameter_m < hole->diameter_m) {
        hbk_value_fault(
            hbk_fields_ask(fields, "pad_diameter"), HBK_H_PAD_TOO_SMALL,
            "a pad of %g mm cannot cover a hole of %g mm; the pad "
            "is the wider of the two",
            hole->pad_diameter_m * 1000.0, hole->diameter_m * 1000.0);
    }
    size_t choice = 0;
    if (hbk_field_choice(fields, "flange", words, 4, &choice) == HBK_GOT) {
        hole->flange = flanges[choice];
    }
}

/* What the bore model needs of a hole besides. */
static void check_bore_hole(const struct hbk_work *work,
                            const struct hbk_fields *fields,
                            const struct hbk_site *site)
{
    if (!has(fields, "from_bell") && !has(fields, "at")) {
        hbk_fields_fault(fields, HBK_H_HOLE_NEEDS_PLACE,
                         "on a horn described by its bore a hole has a place; "
                         "write 'from_bell', in mm");
    }
    if (!has(fields, "diameter")) {
        hbk_fields_fault(fields, HBK_H_HOLE_NEEDS_DIAMETER,
                         "on a horn described by its bore a hole has a size; "
                         "write its inner 'diameter', in mm");
    }
    const double bore_m = 2.0 * hbk_work_bore_radius(work, site->at_m);
    if (bore_m > 0.0 && site->hole.diameter_m > bore_m) {
        hbk_value_fault(hbk_fields_ask(fields, "diameter"), HBK_H_HOLE_TOO_WIDE,
                        "a hole of %g mm is wider than its tube, %.1f mm "
                        "there; check its diameter and place",
                        site->hole.diameter_m * 1000.0, bore_m * 1000.0);
    }
}

static void read_hole(struct hbk_work *work, const struct hbk_fields *fields,
                      size_t control, bool stands_open)
{
    struct hbk_site site = {
        .kind = HBK_HOLE,
        .at_rest = stands_open,
        .at_m = NAN,
        .hole = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, HBK_FLANGE_AUTO},
        .loop = {.diameter_m = NAN, .end_diameter_m = NAN},
        .origin = fields->map->place,
    };
    read_raises(fields, stands_open, &site.hole);
    read_place(work, fields, &site);
    read_sizes(fields, &site.hole);
    if (work->horn->model == HBK_MODEL_BORE) {
        check_bore_hole(work, fields, &site);
    }
    (void)hbk_work_add_site(work, fields, control, &site);
}

/* A hole that a touch opens besides its own. */
static void read_further_hole(struct hbk_work *work, size_t control, size_t i,
                              const struct hbk_node *node)
{
    static const char *const known[] = {"raises",       "from_bell", "at",
                                        "diameter",     "chimney",   "wall",
                                        "pad_diameter", "pad_lift",  "flange"};
    const struct hbk_fields *const key = &work->control_fields[control];
    struct hbk_fields fields = *key;
    fields.map = node;
    fields.words =
        hbk_arena_printf(key->arena, "%s: opens, item %zu", key->words, i + 1);
    hbk_fields_known(&fields, known, sizeof(known) / sizeof(known[0]));
    if (!describes_hole(&fields) && !means_hole(&fields)) {
        hbk_fields_fault(&fields, HBK_H_KEY_WORKS_NOTHING,
                         "nothing says where the hole is; write 'raises' in "
                         "semitones, or 'from_bell' in mm");
    }
    read_hole(work, &fields, control,
              work->horn->controls[control].stands_open);
}

/* A size says that there is a hole, so it wants a place too. */
static void refuse_sizes(const struct hbk_fields *fields)
{
    static const char *const sizes[] = {"diameter",     "chimney",  "wall",
                                        "pad_diameter", "pad_lift", "flange"};
    for (size_t i = 0; i < sizeof(sizes) / sizeof(sizes[0]); i++) {
        if (has(fields, sizes[i])) {
            hbk_value_fault(hbk_fields_ask(fields, sizes[i]),
                            HBK_H_HOLE_NEEDS_PLACE,
                            "the key has no hole of its own; write where it "
                            "is with 'from_bell', or what it 'raises' by, or "
                            "leave this out");
            return;
        }
    }
}

/* What the sign of `raises` says where `rest` is missing or was refused. */
static bool seems_to_lower(const struct hbk_fields *fields)
{
    const struct hbk_node *const raises = hbk_fields_find(fields, "raises");
    return raises != NULL && raises->kind == HBK_SCALAR &&
           raises->text[0] == '-';
}

/* open or closed; files of version 0.1.0 have shut for that. */
static enum hbk_got read_rest(const struct hbk_fields *fields, size_t *rest)
{
    const struct hbk_node *const node = hbk_fields_find(fields, "rest");
    if (node != NULL && node->kind == HBK_SCALAR &&
        strcmp(node->text, "shut") == 0) {
        *rest = 1;
        return HBK_GOT;
    }
    return hbk_field_choice(fields, "rest", rests, 2, rest);
}

static void read_key(struct hbk_work *work, size_t control)
{
    const struct hbk_fields *const fields = &work->control_fields[control];
    struct hbk_control *const key = &work->horn->controls[control];
    size_t rest = 1;
    const enum hbk_got got = read_rest(fields, &rest);
    if (got == HBK_ABSENT && describes_hole(fields)) {
        hbk_fields_missing(fields, "rest",
                           "'rest: open' if the hole is open at rest, or "
                           "'rest: closed' if the pad covers it");
    }
    key->stands_open = got == HBK_GOT ? rest == 0 : seems_to_lower(fields);
    (void)hbk_field_text(fields, "called", 12, &key->called);
    if (!describes_hole(fields) && !has(fields, "opens") &&
        !means_hole(fields)) {
        hbk_fields_fault(fields, HBK_H_KEY_WORKS_NOTHING,
                         "the key works nothing; write what it 'raises' by in "
                         "semitones, or where its hole is ('from_bell', in "
                         "mm)");
    }
    if (describes_hole(fields)) {
        read_hole(work, fields, control, key->stands_open);
    } else if (has(fields, "opens")) {
        refuse_sizes(fields);
    }
    const struct hbk_node *list = NULL;
    if (hbk_field_list(fields, "opens", 1, OPENS_MAX, &list) != HBK_GOT) {
        return;
    }
    for (size_t i = 0; i < list->n; i++) {
        if (list->items[i].kind == HBK_MAP) {
            read_further_hole(work, control, i, &list->items[i]);
        }
    }
}

/* Lets a key open the holes of another one as well. */
static void link_key(struct hbk_work *work, size_t control, size_t other,
                     struct hbk_asked asked)
{
    struct hbk_horn *const horn = work->horn;
    size_t n = 0;
    for (size_t k = 0; k < horn->n_sites; k++) {
        struct hbk_site *const site = &horn->sites[k];
        if (site->kind != HBK_HOLE || work->site_control[k] != other) {
            continue;
        }
        n++;
        if (site->n_terms == HBK_TERMS_MAX) {
            hbk_value_fault(asked, HBK_H_TOO_MANY_TOUCHES,
                            "more than %d keys open the holes of key %s; "
                            "leave some out",
                            HBK_TERMS_MAX, horn->controls[other].name);
            return;
        }
        site->terms[site->n_terms++] = UINT32_C(1) << control;
    }
    if (n == 0) {
        hbk_value_fault(asked, HBK_H_OPENS_NO_SUCH_KEY,
                        "key %s has no hole of its own; name the key whose "
                        "hole it is",
                        horn->controls[other].name);
    }
}

static void read_link(struct hbk_work *work, size_t control,
                      struct hbk_asked asked)
{
    const struct hbk_horn *const horn = work->horn;
    const char *name = NULL;
    if (!hbk_value_control_name(asked, &name)) {
        return;
    }
    const int other = hbk_horn_find_control(horn, HBK_KEY, name);
    if (other < 0 || (size_t)other == control) {
        hbk_value_fault(asked, HBK_H_OPENS_NO_SUCH_KEY,
                        "there is no other key %s; name a key of this horn, or "
                        "describe the hole in { }",
                        name);
    } else if (horn->controls[other].stands_open) {
        hbk_value_fault(asked, HBK_H_OPENS_OPEN_KEY,
                        "the hole of key %s is open at rest already; name a "
                        "key that is closed at rest",
                        name);
    } else if (horn->controls[control].stands_open) {
        hbk_value_fault(
            asked, HBK_H_OPENS_WHILE_OPEN,
            "a key that is open at rest closes its hole when pressed, so it "
            "cannot open that of key %s; write 'rest: closed', or leave this "
            "out",
            name);
    } else {
        link_key(work, control, (size_t)other, asked);
    }
}

static void read_links(struct hbk_work *work, size_t control)
{
    const struct hbk_fields *const fields = &work->control_fields[control];
    struct hbk_asked asked = hbk_fields_ask(fields, "opens");
    const struct hbk_node *const list = asked.node;
    if (list == NULL || list->kind != HBK_LIST || list->n > OPENS_MAX) {
        return; /* reported by read_key */
    }
    for (size_t i = 0; i < list->n; i++) {
        asked.node = &list->items[i];
        if (asked.node->kind != HBK_MAP) {
            read_link(work, control, asked);
        }
    }
}

static void check_distances(const struct hbk_work *work)
{
    const struct hbk_horn *const horn = work->horn;
    for (size_t k = 0; k < horn->n_sites; k++) {
        for (size_t i = 0; i < k; i++) {
            const double a = horn->sites[i].hole.from_bell_m;
            const double b = horn->sites[k].hole.from_bell_m;
            if (fabs(a - b) < SAME_PLACE_M) {
                hbk_fields_fault(&work->site_fields[k], HBK_H_HOLES_TOGETHER,
                                 "the hole of %s is at the same place; "
                                 "check both distances",
                                 work->site_fields[i].words);
                break;
            }
        }
    }
}

void hbk_work_keys(struct hbk_work *work)
{
    static const char *const known[] = {
        "key",      "called",   "rest",    "raises", "from_bell",
        "at",       "diameter", "chimney", "wall",   "pad_diameter",
        "pad_lift", "flange",   "opens",   "finger", "provenance",
        "alone",    "remove"};
    const struct hbk_node *const list =
        hbk_work_list(work, "keys", HBK_LIST_MAX);
    for (size_t i = 0; list != NULL && i < list->n; i++) {
        struct hbk_work_entry entry;
        if (!hbk_work_entry(work, list, i, "key", &entry)) {
            continue;
        }
        hbk_fields_known(&entry.fields, known,
                         sizeof(known) / sizeof(known[0]));
        const size_t control = hbk_work_add_control(work, HBK_KEY, &entry);
        if (control < HBK_CONTROLS_MAX) {
            read_key(work, control);
        }
    }
    for (size_t i = 0; i < work->horn->n_controls; i++) {
        read_links(work, i);
    }
    check_distances(work);
}
