#include "reader/work.h"

#include "base/messages.h"
#include "base/number.h"
#include "horn/about.h"
#include "horn/horn.h"

#include <math.h>
#include <string.h>

/* Valves and the loops they bring in or take out; triggers. */

enum { LOOPS_MAX = 16, WHEN_MAX = 8, LOOP_MAX_MM = 20000 };

static const char *const sides[] = {"out", "in"};

static bool has(const struct hbk_fields *fields, const char *name)
{
    return hbk_fields_find(fields, name) != NULL;
}

/*
 * Reads "12.356 %" or "200 cents": a number, at most one blank and the word.
 * Returns false, silently, for anything else.
 */
static bool parse_with_unit(const char *text, const char *unit, double *value)
{
    double number = 0.0;
    size_t used = 0;
    if (!hbk_number_prefix(text, &number, &used)) {
        return false;
    }
    used += text[used] == ' ' ? 1 : 0;
    if (strcmp(text + used, unit) != 0) {
        return false;
    }
    *value = number;
    return true;
}

/* Refuses a length of no, negative or absurd size. */
static bool check_loop(struct hbk_asked asked, double value, double most,
                       const char *sign)
{
    if (!(value > 0.0)) {
        hbk_value_fault(asked, HBK_H_LOOP_NOT_POSITIVE,
                        "a loop of %g%s cannot be; write how much tube it "
                        "has, a number above 0",
                        value, sign);
        return false;
    }
    if (value > most) {
        hbk_value_fault(asked, HBK_H_RANGE,
                        "%g%s is out of bounds; it must be at most %g%s", value,
                        sign, most, sign);
        return false;
    }
    return true;
}

/* The length of a loop: 165, in mm, or "12.356 %" of the open horn. */
static bool read_loop_length(struct hbk_asked asked, bool rests_in,
                             struct hbk_loop *loop)
{
    static const struct hbk_range any = {-1e9, 1e9, HBK_UNIT_MM};
    double value = 0.0;
    if (asked.node->kind == HBK_SCALAR && !asked.node->is_faulty &&
        parse_with_unit(asked.node->text, "%", &value)) {
        if (!check_loop(asked, value, rests_in ? 99.0 : 200.0, " %")) {
            return false;
        }
        loop->measure = HBK_LOOP_SHARE;
        loop->value = value / 100.0;
        return true;
    }
    if (asked.node->kind == HBK_SCALAR && !asked.node->is_faulty &&
        hbk_node_type(asked.node) == HBK_IS_TEXT &&
        parse_with_unit(asked.node->text, "cents", &value)) {
        hbk_value_fault(asked, HBK_H_LOOP_FORM,
                        "a loop is a length, in mm or as a share such as '6 "
                        "%%'; for cents write 'lowers: %g cents'",
                        value);
        return false;
    }
    if (!hbk_value_number(asked, any, &value) ||
        !check_loop(asked, value, LOOP_MAX_MM, " mm")) {
        return false;
    }
    loop->measure = HBK_LOOP_METRES;
    loop->value = value / 1000.0;
    return true;
}

/* 200 or "200 cents". */
static bool read_loop_cents(struct hbk_asked asked, struct hbk_loop *loop)
{
    static const struct hbk_range any = {-1e9, 1e9, HBK_UNIT_CENTS};
    double value = 0.0;
    const bool is_phrase = asked.node->kind == HBK_SCALAR &&
                           !asked.node->is_faulty &&
                           parse_with_unit(asked.node->text, "cents", &value);
    if ((!is_phrase && !hbk_value_number(asked, any, &value)) ||
        !check_loop(asked, value, 2400.0, " cents")) {
        return false;
    }
    loop->measure = HBK_LOOP_CENTS;
    loop->value = value;
    return true;
}

static void read_diameters(const struct hbk_fields *fields,
                           struct hbk_loop *loop)
{
    (void)hbk_work_mm(fields, "diameter", 1.0, 200.0, &loop->diameter_m);
    (void)hbk_work_mm(fields, "end_diameter", 1.0, 200.0,
                      &loop->end_diameter_m);
}

/* The valves that must all be down; false after a fault. */
static bool read_when(struct hbk_work *work, size_t control,
                      const struct hbk_fields *fields, uint32_t *term)
{
    const struct hbk_node *list = NULL;
    const enum hbk_got got = hbk_field_list(fields, "when", 1, WHEN_MAX, &list);
    if (got != HBK_GOT) {
        return got == HBK_ABSENT;
    }
    uint32_t mask = 0;
    struct hbk_asked asked = hbk_fields_ask(fields, "when");
    for (size_t i = 0; i < list->n; i++) {
        const char *name = NULL;
        asked.node = &list->items[i];
        if (!hbk_value_control_name(asked, &name)) {
            return false;
        }
        const int valve = hbk_horn_find_control(work->horn, HBK_VALVE, name);
        if (valve < 0) {
            hbk_value_fault(asked, HBK_H_WHEN_NO_SUCH_VALVE,
                            "there is no valve %s; name valves of this horn",
                            name);
            return false;
        }
        mask |= UINT32_C(1) << valve;
    }
    if ((mask >> control & 1U) == 0) {
        hbk_value_fault(hbk_fields_ask(fields, "when"), HBK_H_WHEN_WITHOUT_OWN,
                        "the loop stands under valve %s but comes in without "
                        "it; list that valve too, or move the loop to another",
                        work->horn->controls[control].name);
        return false;
    }
    *term = mask;
    return true;
}

/* One loop of a valve; `site` has what they share. */
static void read_loop(struct hbk_work *work, size_t control,
                      struct hbk_asked asked, struct hbk_site site)
{
    static const char *const known[] = {"adds", "when", "at", "diameter",
                                        "end_diameter"};
    const bool rests_in = site.at_rest;
    struct hbk_fields fields = work->control_fields[control];
    const uint32_t own = UINT32_C(1) << control;
    uint32_t term = own;
    bool is_good = false;
    site.origin = asked.node->place;
    if (asked.node->kind != HBK_MAP) {
        is_good = read_loop_length(asked, rests_in, &site.loop);
    } else {
        fields.words =
            hbk_arena_printf(fields.arena, "%s: %s", fields.words, asked.name);
        fields.map = asked.node;
        hbk_fields_known(&fields, known, sizeof(known) / sizeof(known[0]));
        const bool has_when = read_when(work, control, &fields, &term);
        const bool is_plain = term == own;
        site.at_rest = rests_in && is_plain;
        const struct hbk_asked adds = hbk_fields_ask(&fields, "adds");
        if (adds.node == NULL) {
            hbk_fields_missing(&fields, "adds",
                               "the length of the loop, in mm or as a share "
                               "such as '6 %'");
        }
        site.origin = adds.node != NULL ? adds.node->place : site.origin;
        is_good = adds.node != NULL &&
                  read_loop_length(adds, site.at_rest, &site.loop) && has_when;
        (void)hbk_work_at(work, &fields, &site.at_m);
        read_diameters(&fields, &site.loop);
    }
    if (is_good) {
        site.n_terms = 1;
        site.terms[0] = term;
        (void)hbk_work_add_site(work, &fields, control, &site);
    }
}

/* Which of loop, lowers and raises the valve gives; NULL for none. */
static const char *plain_loop(const struct hbk_fields *fields)
{
    static const char *const names[] = {"loop", "lowers", "raises"};
    const char *found = NULL;
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        if (!has(fields, names[i])) {
            continue;
        }
        if (found != NULL) {
            hbk_value_fault(hbk_fields_ask(fields, names[i]),
                            HBK_H_TWO_LOOP_LENGTHS,
                            "the loop is given by '%s' already; keep one of "
                            "the two",
                            found);
            break;
        }
        found = names[i];
    }
    return found;
}

/* Whether the loop is in at rest: as `rest` says, or else as `raises` does. */
static bool read_rest(const struct hbk_fields *fields)
{
    size_t side = has(fields, "raises") ? 1 : 0;
    if (hbk_field_choice(fields, "rest", sides, 2, &side) != HBK_GOT) {
        return side == 1;
    }
    if (side == 0 && has(fields, "raises")) {
        hbk_value_fault(hbk_fields_ask(fields, "rest"), HBK_H_RAISES_BUT_OUT,
                        "a valve raises by taking a loop out, so the loop is "
                        "in at rest; write 'rest: in', or 'lowers'");
    }
    if (side == 1 && has(fields, "lowers")) {
        hbk_value_fault(hbk_fields_ask(fields, "rest"), HBK_H_LOWERS_BUT_IN,
                        "a valve lowers by bringing a loop in, so the loop is "
                        "out at rest; write 'rest: out', or 'raises'");
    }
    return side == 1;
}

static void read_action(const struct hbk_fields *fields,
                        struct hbk_control *valve)
{
    enum { N_ACTIONS = HBK_ACTION_COUNT - 1 }; /* without the unknown one */
    const char *words[N_ACTIONS];
    size_t choice = 0;
    for (int i = 0; i < N_ACTIONS; i++) {
        words[i] = hbk_action_name((enum hbk_action)(i + 1));
    }
    if (hbk_field_choice(fields, "action", words, N_ACTIONS, &choice) ==
        HBK_GOT) {
        valve->action = (enum hbk_action)(choice + 1);
    }
    (void)hbk_work_mm(fields, "stroke", 1.0, 60.0, &valve->stroke_m);
}

static void read_loops(struct hbk_work *work, size_t control,
                       struct hbk_site site)
{
    const struct hbk_fields *const fields = &work->control_fields[control];
    const char *const plain = plain_loop(fields);
    if (plain == NULL && !has(fields, "loops")) {
        if (hbk_fields_meant(fields, "loop") ||
            hbk_fields_meant(fields, "loops") ||
            hbk_fields_meant(fields, "lowers") ||
            hbk_fields_meant(fields, "raises")) {
            return;
        }
        hbk_fields_fault(fields, HBK_H_VALVE_WORKS_NOTHING,
                         "the valve works nothing; write the length of its "
                         "'loop' in mm, or what it 'lowers' by in cents");
        return;
    }
    if (plain != NULL && strcmp(plain, "loop") == 0) {
        read_loop(work, control, hbk_fields_ask(fields, plain), site);
    } else if (plain != NULL) {
        const struct hbk_asked asked = hbk_fields_ask(fields, plain);
        site.origin = asked.node->place;
        if (read_loop_cents(asked, &site.loop)) {
            (void)hbk_work_add_site(work, fields, control, &site);
        }
    }
    const struct hbk_node *list = NULL;
    if (hbk_field_list(fields, "loops", 1, LOOPS_MAX, &list) != HBK_GOT) {
        return;
    }
    for (size_t i = 0; i < list->n; i++) {
        struct hbk_asked asked = hbk_fields_ask(fields, "loops");
        asked.node = &list->items[i];
        read_loop(work, control, asked, site);
    }
}

static void read_valve(struct hbk_work *work, size_t control)
{
    const struct hbk_fields *const fields = &work->control_fields[control];
    struct hbk_control *const valve = &work->horn->controls[control];
    struct hbk_site site = {
        .kind = HBK_LOOP,
        .at_m = NAN,
        .hole = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, HBK_FLANGE_AUTO},
        .loop = {.diameter_m = NAN, .end_diameter_m = NAN},
    };
    read_action(fields, valve);
    valve->rests_in = read_rest(fields);
    site.at_rest = valve->rests_in;
    (void)hbk_work_at(work, fields, &site.at_m);
    read_diameters(fields, &site.loop);
    read_loops(work, control, site);
}

/* In the bore model the place of a loop decides its effect. */
static void check_places(const struct hbk_work *work)
{
    const struct hbk_horn *const horn = work->horn;
    size_t told = HBK_CONTROLS_MAX;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_fields *const fields = &work->site_fields[k];
        const size_t control = work->site_control[k];
        if (horn->model == HBK_MODEL_BORE && horn->sites[k].kind == HBK_LOOP &&
            isnan(horn->sites[k].at_m) && !has(fields, "at") &&
            !has(&work->control_fields[control], "at") && control != told) {
            hbk_fields_fault(fields, HBK_H_NEEDS_PLACE,
                             "on a horn described by its bore a loop has a "
                             "place; write 'at', in mm from the mouthpiece "
                             "rim");
            told = control;
        }
    }
}

/* The valve a trigger works with, or -1; false after a fault. */
static bool read_trigger_valve(struct hbk_work *work,
                               const struct hbk_fields *fields, int *valve)
{
    const struct hbk_asked asked = hbk_fields_ask(fields, "valve");
    const char *name = NULL;
    *valve = -1;
    if (asked.node == NULL) {
        return true;
    }
    if (!hbk_value_control_name(asked, &name)) {
        return false;
    }
    *valve = hbk_horn_find_control(work->horn, HBK_VALVE, name);
    if (*valve < 0) {
        hbk_value_fault(asked, HBK_H_NO_SUCH_VALVE,
                        "there is no valve %s; name a valve of this horn, or "
                        "leave it out for the main slide",
                        name);
        return false;
    }
    if (work->horn->controls[*valve].rests_in) {
        hbk_value_fault(asked, HBK_H_TRIGGER_ON_LOOP_IN,
                        "the loop of valve %s is in at rest and goes out when "
                        "pressed; name a valve that brings its loop in",
                        name);
        return false;
    }
    return true;
}

/* A trigger draws where its valve's own loop lies, unless it says else. */
static void borrow_place(const struct hbk_work *work, size_t valve,
                         struct hbk_site *site)
{
    for (size_t k = 0; k < work->horn->n_sites; k++) {
        const struct hbk_site *const loop = &work->horn->sites[k];
        if (loop->kind == HBK_LOOP && work->site_control[k] == valve &&
            loop->terms[0] == UINT32_C(1) << valve) {
            site->at_m = loop->at_m;
            site->loop.diameter_m = loop->loop.diameter_m;
            return;
        }
    }
}

static void read_trigger(struct hbk_work *work, size_t control)
{
    const struct hbk_fields *const fields = &work->control_fields[control];
    struct hbk_site site = {
        .kind = HBK_LOOP,
        .at_m = NAN,
        .n_terms = 1,
        .terms = {UINT32_C(1) << control},
        .hole = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, HBK_FLANGE_AUTO},
        .loop = {.measure = HBK_LOOP_METRES,
                 .diameter_m = NAN,
                 .end_diameter_m = NAN,
                 .is_drawn = true},
    };
    double travel_m = 0.0;
    int valve = -1;
    const bool has_travel = hbk_work_travel(fields, &travel_m);
    long legs = 2;
    (void)hbk_field_whole(fields, "legs", 1, 2, &legs);
    site.loop.value = travel_m * (double)legs;
    site.loop.legs = (int)legs;
    const bool has_valve = read_trigger_valve(work, fields, &valve);
    if (has_valve && valve >= 0) {
        site.terms[0] |= UINT32_C(1) << valve;
        borrow_place(work, (size_t)valve, &site);
    }
    (void)hbk_work_at(work, fields, &site.at_m);
    read_diameters(fields, &site.loop);
    if (has_travel && has_valve) {
        (void)hbk_work_add_site(work, fields, control, &site);
    }
}

static void read_triggers(struct hbk_work *work)
{
    static const char *const known[] = {
        "trigger",  "valve",  "travel", "legs",       "at",
        "diameter", "finger", "alone",  "provenance", "remove"};
    const struct hbk_node *const list =
        hbk_work_list(work, "triggers", HBK_LIST_MAX);
    for (size_t i = 0; list != NULL && i < list->n; i++) {
        struct hbk_work_entry entry;
        if (!hbk_work_entry(work, list, i, "trigger", &entry)) {
            continue;
        }
        hbk_fields_known(&entry.fields, known,
                         sizeof(known) / sizeof(known[0]));
        const size_t control = hbk_work_add_control(work, HBK_TRIGGER, &entry);
        if (control < HBK_CONTROLS_MAX) {
            read_trigger(work, control);
        }
    }
}

void hbk_work_valves(struct hbk_work *work)
{
    static const char *const known[] = {
        "valve",      "loop",  "loops",        "lowers", "raises",
        "rest",       "at",    "diameter",     "stroke", "finger",
        "provenance", "alone", "end_diameter", "action", "remove"};
    const struct hbk_node *const list =
        hbk_work_list(work, "valves", HBK_LIST_MAX);
    const size_t first = work->horn->n_controls;
    /* All of them first: a combination names valves further down. */
    for (size_t i = 0; list != NULL && i < list->n; i++) {
        struct hbk_work_entry entry;
        if (hbk_work_entry(work, list, i, "valve", &entry)) {
            hbk_fields_known(&entry.fields, known,
                             sizeof(known) / sizeof(known[0]));
            (void)hbk_work_add_control(work, HBK_VALVE, &entry);
        }
    }
    for (size_t i = first; i < work->horn->n_controls; i++) {
        read_valve(work, i);
    }
    read_triggers(work);
    check_places(work);
}
