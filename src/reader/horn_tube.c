#include "reader/work.h"

#include "base/messages.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "reader/note_meant.h"

#include <math.h>
#include <stdio.h>

/* The tube itself: its length, its fundamental or the stations of its bore. */

/* No sound travels faster in air of 50 degrees Celsius or less, m/s. */
#define FASTEST_SOUND_M_S 365.0

enum { STATIONS_MAX = 2000, ASSUMED_MAX = 20 };

static bool read_station(struct hbk_asked asked, struct hbk_station *station)
{
    static const struct hbk_range along = {0.0, HBK_TUBE_MAX_MM, HBK_UNIT_MM};
    static const struct hbk_range across = {1.0, 2000.0, HBK_UNIT_MM};
    double x_mm = 0.0;
    double diameter_mm = 0.0;
    const struct hbk_node *const pair = asked.node;
    if (!hbk_value_list(asked, 2, 2)) {
        return false;
    }
    asked.node = &pair->items[0];
    const bool has_x = hbk_value_number(asked, along, &x_mm);
    asked.node = &pair->items[1];
    const bool has_diameter = hbk_value_number(asked, across, &diameter_mm);
    station->x_m = x_mm / 1000.0;
    station->radius_m = diameter_mm / 2000.0;
    return has_x && has_diameter;
}

/* Refuses a station that cannot follow those before it. */
static bool check_station(struct hbk_asked asked, size_t i, size_t n,
                          const struct hbk_station *stations)
{
    const struct hbk_station *const here = &stations[i];
    if (i == 0) {
        if (here->x_m != 0.0) {
            hbk_value_fault(asked, HBK_H_BORE_START,
                            "the first station is at %g mm; it must be at "
                            "0, where the count begins",
                            here->x_m * 1000.0);
            return false;
        }
        return true;
    }
    const struct hbk_station *const before = &stations[i - 1];
    if (here->x_m < before->x_m) {
        hbk_value_fault(asked, HBK_H_BORE_ORDER,
                        "%g mm comes after %g mm; write the stations in "
                        "their order from the mouthpiece to the bell",
                        here->x_m * 1000.0, before->x_m * 1000.0);
        return false;
    }
    if (here->x_m > before->x_m) {
        return true;
    }
    if (i == 1 || i + 1 == n || here->radius_m == before->radius_m ||
        stations[i - 2].x_m == here->x_m) {
        hbk_value_fault(asked, HBK_H_BORE_STEP,
                        "another station is at %g mm already; two at one "
                        "place make a step, between the ends and with two "
                        "diameters",
                        here->x_m * 1000.0);
        return false;
    }
    return true;
}

size_t hbk_work_stations(const struct hbk_fields *fields, const char *name,
                         size_t most, const struct hbk_station **result)
{
    const struct hbk_node *list = NULL;
    const struct hbk_asked whole = hbk_fields_ask(fields, name);
    if (whole.node != NULL && whole.node->kind == HBK_LIST &&
        !whole.node->is_faulty && whole.node->n > most) {
        hbk_value_fault(whole, HBK_H_LIST_SIZE,
                        "the list has %zu items; it must have from 2 to %zu. "
                        "Between two stations the bore is taken as a cone: "
                        "leave out those on a straight line between "
                        "their neighbors",
                        whole.node->n, most);
        return 0;
    }
    if (hbk_field_list(fields, name, 2, most, &list) != HBK_GOT) {
        return 0;
    }
    struct hbk_station *const stations =
        HBK_ARENA_ARRAY(fields->arena, struct hbk_station, list->n);
    bool is_good = true;
    for (size_t i = 0; i < list->n; i++) {
        char item[32];
        struct hbk_asked asked = hbk_fields_ask(fields, name);
        (void)snprintf(item, sizeof(item), "%s, station %zu", name, i + 1);
        asked.name = item;
        asked.node = &list->items[i];
        const bool is_read = read_station(asked, &stations[i]);
        if (!is_read && i > 0) {
            stations[i].x_m = stations[i - 1].x_m; /* spare the next one */
        }
        is_good =
            is_read && check_station(asked, i, list->n, stations) && is_good;
    }
    *result = stations;
    return is_good ? list->n : 0;
}

/* Where nobody recorded the bore. */
static void read_assumed(struct hbk_work *work)
{
    static const struct hbk_range along = {0.0, HBK_TUBE_MAX_MM, HBK_UNIT_MM};
    struct hbk_bore *const bore = &work->horn->bore;
    const struct hbk_node *list = NULL;
    if (hbk_field_list(&work->top, "bore_assumed", 1, ASSUMED_MAX, &list) !=
        HBK_GOT) {
        return;
    }
    struct hbk_stretch *const assumed =
        HBK_ARENA_ARRAY(work->top.arena, struct hbk_stretch, list->n);
    double before_mm = 0.0;
    for (size_t i = 0; i < list->n; i++) {
        struct hbk_asked asked = hbk_fields_ask(&work->top, "bore_assumed");
        double from_mm = 0.0;
        double to_mm = 0.0;
        const struct hbk_node *const pair = &list->items[i];
        asked.node = pair;
        if (!hbk_value_list(asked, 2, 2)) {
            return;
        }
        asked.node = &pair->items[0];
        const bool has_from = hbk_value_number(asked, along, &from_mm);
        asked.node = &pair->items[1];
        if (!has_from || !hbk_value_number(asked, along, &to_mm)) {
            return;
        }
        asked.node = pair;
        if (from_mm < before_mm || to_mm <= from_mm ||
            to_mm / 1000.0 > work->tube_m) {
            hbk_value_fault(asked, HBK_H_BORE_ASSUMED,
                            "%g to %g mm is no stretch of the bore; write "
                            "[from, to] within the tube, from the mouthpiece "
                            "to the bell, one after the other",
                            from_mm, to_mm);
            return;
        }
        assumed[i] = (struct hbk_stretch){from_mm / 1000.0, to_mm / 1000.0};
        before_mm = to_mm;
    }
    bore->n_assumed = list->n;
    bore->assumed = assumed;
}

static void read_bore(struct hbk_work *work)
{
    static const char *const fronts[] = {"spherical", "plane"};
    static const char *const flanges[] = {"none", "wide"};
    static const char *const known[] = {"flange"};
    struct hbk_bore *const bore = &work->horn->bore;
    work->horn->model = HBK_MODEL_BORE;
    bore->n_stations =
        hbk_work_stations(&work->top, "bore", STATIONS_MAX, &bore->stations);
    if (bore->n_stations > 0) {
        work->tube_m = bore->stations[bore->n_stations - 1].x_m;
        read_assumed(work);
    }
    size_t choice = 0;
    if (hbk_field_choice(&work->top, "wavefronts", fronts, 2, &choice) ==
        HBK_GOT) {
        bore->wavefront = choice == 0 ? HBK_SPHERICAL : HBK_PLANE;
    }
    struct hbk_fields bell;
    if (hbk_field_map(&work->top, "bell", "{flange: none}", &bell) == HBK_GOT) {
        hbk_fields_known(&bell, known, 1);
        if (hbk_field_choice(&bell, "flange", flanges, 2, &choice) == HBK_GOT) {
            bore->bell_flanged = choice == 1;
        }
    }
    (void)hbk_field_bool(&work->top, "step_inertance", &bore->step_inertance);
}

/* A number of Hz, or a sounding note at the horn's own pitch. */
static void read_fundamental(struct hbk_work *work)
{
    static const struct hbk_range range = {5.0, 2000.0, HBK_UNIT_HZ};
    const struct hbk_asked asked = hbk_fields_ask(&work->top, "fundamental");
    double hz = NAN;
    if (asked.node->kind == HBK_SCALAR && !asked.node->is_faulty &&
        hbk_seems_note(asked.node->text)) {
        int note = 0;
        if (hbk_value_note(asked, &note)) {
            hz = hbk_note_hz(note, work->horn->a4_hz);
        }
    } else {
        (void)hbk_value_number(asked, range, &hz);
    }
    work->horn->fundamental_hz = hz;
    work->tube_m = FASTEST_SOUND_M_S / (2.0 * hz);
    work->tube_is_bound = true;
}

static void refuse_bore_names(struct hbk_work *work)
{
    static const char *const names[] = {"mouthpiece",     "mouthpieces",
                                        "wavefronts",     "bell",
                                        "step_inertance", "bore_assumed"};
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        const struct hbk_asked asked = hbk_fields_ask(&work->top, names[i]);
        if (asked.node != NULL) {
            hbk_value_fault(asked, HBK_H_BORE_ONLY,
                            "it has no effect on a horn that is described by "
                            "its length; give the 'bore', or leave this out");
        }
    }
}

static void refuse_stretch(struct hbk_work *work)
{
    const struct hbk_node *const partials =
        hbk_fields_find(&work->top, "partials");
    if (partials == NULL || partials->kind != HBK_MAP) {
        return;
    }
    const struct hbk_entry *const stretch = hbk_node_entry(partials, "stretch");
    if (stretch != NULL) {
        hbk_fault_add(work->top.faults, stretch->place, HBK_H_STRETCH_IN_BORE,
                      "partials: the bore sets the pitch of every partial, so "
                      "'stretch' has no place here; leave it out");
    }
}

/* Exactly one of the three is wanted; NULL after a fault. */
static const char *tube_name(struct hbk_work *work)
{
    static const char *const names[] = {"length", "fundamental", "bore"};
    const char *found = NULL;
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        const struct hbk_asked asked = hbk_fields_ask(&work->top, names[i]);
        if (asked.node == NULL) {
            continue;
        }
        if (found != NULL) {
            hbk_value_fault(asked, HBK_H_TWO_TUBES,
                            "the tube is described by its '%s' already; keep "
                            "one of the two",
                            found);
            return NULL;
        }
        found = names[i];
    }
    if (found == NULL && !hbk_fields_meant(&work->top, "length") &&
        !hbk_fields_meant(&work->top, "fundamental") &&
        !hbk_fields_meant(&work->top, "bore")) {
        hbk_fields_fault(&work->top, HBK_H_NO_TUBE,
                         "nothing says how long the tube is; write its "
                         "'fundamental' (Hz or a note as Bb1), its 'length' "
                         "in mm or its 'bore'");
    }
    return found;
}

void hbk_work_tube(struct hbk_work *work)
{
    work->tube_m = NAN;
    const char *const name = tube_name(work);
    if (name == NULL) {
        return;
    }
    if (name[0] == 'b') {
        read_bore(work);
        refuse_stretch(work);
        return;
    }
    if (name[0] == 'f') {
        read_fundamental(work);
    } else {
        (void)hbk_work_mm(&work->top, "length", 50.0, HBK_TUBE_MAX_MM,
                          &work->horn->length_m);
        work->tube_m = work->horn->length_m;
    }
    refuse_bore_names(work);
}
