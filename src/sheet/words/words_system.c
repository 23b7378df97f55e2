#include "sheet/words/words_system.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "sheet/words/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static uint32_t stuck_of(const struct hbk_notes *notes)
{
    return notes->setting.stuck.held_down | notes->setting.stuck.held_up;
}

/* Holes and loops that the control changes when nothing else is pressed. */
static size_t sites_alone(const struct hbk_horn *horn, size_t control,
                          enum hbk_site_kind kind)
{
    size_t n = 0;
    for (size_t i = 0; i < horn->n_sites; i++) {
        const struct hbk_site *site = &horn->sites[i];
        if (site->kind == kind &&
            hbk_site_state(site, UINT32_C(1) << control) != site->at_rest) {
            n++;
        }
    }
    return n;
}

/* Near enough to an interval to be called by its name. */
static bool is_interval(double cents)
{
    static const double near_cents = 25.0;
    const double size = fabs(cents);
    return size > 50.0 &&
           fabs(size - HBK_SEMITONE_CENTS * round(size / HBK_SEMITONE_CENTS)) <
               near_cents;
}

/* "a tone", "about 150 cents". */
static const char *size_words(struct hbk_arena *arena, double cents)
{
    return is_interval(cents)
               ? hbk_words_interval(arena,
                                    (int)lround(cents / HBK_SEMITONE_CENTS))
               : hbk_arena_printf(arena, "about %.0f cents", fabs(cents));
}

const char *hbk_words_effect(struct hbk_arena *arena,
                             const struct hbk_notes *notes, size_t control)
{
    const struct hbk_control *what = &notes->horn->controls[control];
    const char *stuck = hbk_words_stuck(notes, control);
    if (stuck[0] != '\0') {
        return stuck;
    }
    struct hbk_text text = {.arena = arena};
    if (what->stands_open) {
        hbk_text_add(&text, "open at rest; ");
    }
    if (sites_alone(notes->horn, control, HBK_HOLE) > 1) {
        hbk_text_addf(
            &text, "opens %s holes; ",
            hbk_words_count(arena, sites_alone(notes->horn, control, HBK_HOLE),
                            false));
    }
    if (what->kind == HBK_TRIGGER) {
        hbk_text_add(&text, "moves a slide");
        return hbk_text_string(&text);
    }
    const double cents = notes->effect_cents[control];
    if (isnan(cents)) {
        hbk_text_add(&text, what->kind == HBK_VALVE ? "changes the tube"
                            : what->stands_open     ? "pressing closes it"
                                                    : "opens its hole");
        return hbk_text_string(&text);
    }
    hbk_text_addf(&text, "%s%s %s", what->stands_open ? "pressed, it " : "",
                  cents < 0.0 ? "lowers" : "raises", size_words(arena, cents));
    return hbk_text_string(&text);
}

const char *hbk_words_effect_size(struct hbk_arena *arena,
                                  const struct hbk_notes *notes, size_t control)
{
    const double cents = notes->effect_cents[control];
    return isnan(cents) ? "" : size_words(arena, cents);
}

bool hbk_effect_is_interval(const struct hbk_notes *notes, size_t control)
{
    return is_interval(notes->effect_cents[control]);
}

/* Cents by which a valve lowers when pressed; 0 for anything else. */
static double lowers(const struct hbk_notes *notes, size_t control)
{
    const struct hbk_control *what = &notes->horn->controls[control];
    const double cents = notes->effect_cents[control];
    return what->kind != HBK_VALVE || isnan(cents) || cents > 0.0 ? 0.0
                                                                  : -cents;
}

static long semitones(double cents)
{
    return lround(cents / HBK_SEMITONE_CENTS);
}

const char *hbk_words_action(enum hbk_action action)
{
    static const char *const words[] = {
        [HBK_ACTION_UNKNOWN] = "valve",
        [HBK_ACTION_PISTON] = "piston valve",
        [HBK_ACTION_WIDE_PISTON] = "wide piston valve",
        [HBK_ACTION_EARLY_PISTON] = "early piston valve",
        [HBK_ACTION_DOUBLE_PISTON] = "double-piston valve",
        [HBK_ACTION_ROTARY] = "rotary valve",
        [HBK_ACTION_STRING_ROTARY] = "string-action rotary valve"};
    return words[action];
}

/* A list of the controls in `set`: "1", "2 and 3", "1, 2 and 3". */
static const char *list(struct hbk_arena *arena, const struct hbk_horn *horn,
                        uint32_t set)
{
    struct hbk_text text = {.arena = arena};
    size_t left = (size_t)__builtin_popcount(set);
    for (size_t i = 0; i < horn->n_controls; i++) {
        if ((set >> i & 1u) == 0) {
            continue;
        }
        const char *before = text.length == 0 ? "" : left == 1 ? " and " : ", ";
        hbk_text_addf(&text, "%s%s", before, horn->controls[i].name);
        left--;
    }
    return hbk_text_string(&text);
}

static bool is_one(uint32_t set)
{
    return __builtin_popcount(set) == 1;
}

/* Whether the keys are called 1, 2, 3 and so on with none left out. */
static bool counts_on(const struct hbk_horn *horn, uint32_t keys)
{
    int number = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        char name[16];
        if ((keys >> i & 1u) == 0) {
            continue;
        }
        (void)snprintf(name, sizeof(name), "%d", ++number);
        if (strcmp(horn->controls[i].name, name) != 0) {
            return false;
        }
    }
    return true;
}

/* "Six keys, numbered from the bell. ", with the numbers if one is left out. */
static void add_key_count(struct hbk_text *text, const struct hbk_horn *horn,
                          uint32_t keys)
{
    const bool plain = counts_on(horn, keys);
    hbk_text_addf(
        text, "%s key%s, numbered from the bell%s%s. ",
        hbk_words_count(text->arena, (size_t)__builtin_popcount(keys), true),
        is_one(keys) ? "" : "s", plain ? "" : ": ",
        plain ? "" : list(text->arena, horn, keys));
}

/*
 * Who rests shut: of all keys or of those that move, after the open-standing
 * ones were told or alone.
 */
static const char *shut_keys(bool all_move, bool after_open, bool one)
{
    static const char *const words[2][2][2] = {
        {{"Those that move", "The one that moves"},
         {"The others that move", "The other that moves"}},
        {{"They", "It"}, {"The others", "The other"}}};
    return words[all_move ? 1 : 0][after_open ? 1 : 0][one ? 1 : 0];
}

static void add_keys(struct hbk_text *text, const struct hbk_notes *notes)
{
    const struct hbk_horn *horn = notes->horn;
    const uint32_t keys = hbk_horn_kind_press(horn, HBK_KEY);
    if (keys == 0) {
        return;
    }
    uint32_t open = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].kind == HBK_KEY &&
            horn->controls[i].stands_open) {
            open |= UINT32_C(1) << i;
        }
    }
    const uint32_t shut = keys & ~open & ~stuck_of(notes);
    open &= ~stuck_of(notes);
    const bool one_shut = is_one(shut);
    struct hbk_arena *arena = text->arena;
    add_key_count(text, horn, keys);
    if (open != 0) {
        hbk_text_addf(text,
                      "Key%s %s %s OPEN at rest: pressing closes the hole and "
                      "lowers the pitch. ",
                      is_one(open) ? "" : "s", list(arena, horn, open),
                      is_one(open) ? "is" : "are");
    }
    if (shut != 0) {
        hbk_text_addf(text,
                      "%s %s closed at rest: pressing opens the hole and "
                      "raises the pitch; the open hole nearest the mouthpiece "
                      "sets it. ",
                      shut_keys((open | shut) == keys, open != 0, one_shut),
                      one_shut ? "is" : "are");
    }
}

/* "Key 9 opens two holes. " */
static void add_wide_keys(struct hbk_text *text, const struct hbk_notes *notes)
{
    const struct hbk_horn *horn = notes->horn;
    for (size_t i = 0; i < horn->n_controls; i++) {
        const size_t holes = sites_alone(horn, i, HBK_HOLE);
        if (horn->controls[i].kind == HBK_KEY && holes > 1 &&
            (stuck_of(notes) >> i & 1u) == 0) {
            hbk_text_addf(text, "Key %s opens %s holes. ",
                          horn->controls[i].name,
                          hbk_words_count(text->arena, holes, false));
        }
    }
}

static void add_valve_order(struct hbk_text *text,
                            const struct hbk_notes *notes)
{
    const struct hbk_horn *horn = notes->horn;
    const int first = hbk_horn_find_control(horn, HBK_VALVE, "1");
    const int second = hbk_horn_find_control(horn, HBK_VALVE, "2");
    const int third = hbk_horn_find_control(horn, HBK_VALVE, "3");
    if (first < 0 || second < 0) {
        return;
    }
    struct hbk_arena *const arena = text->arena;
    const uint32_t stuck = stuck_of(notes);
    const bool one_moves = (stuck >> first & 1u) == 0;
    const bool two_moves = (stuck >> second & 1u) == 0;
    /* Where neither moves there is no order to mind. */
    const bool told = one_moves || two_moves;
    const double one = told ? lowers(notes, (size_t)first) : 0.0;
    const double two = told ? lowers(notes, (size_t)second) : 0.0;
    if (semitones(one) == 1 && semitones(two) == 2) {
        hbk_text_addf(text,
                      "REVERSED VALVES: valve 1 lowers %s and valve 2 %s. ",
                      size_words(arena, one), size_words(arena, two));
    } else if (semitones(one) == 2 && semitones(two) == 1) {
        hbk_text_addf(text, "The usual order: valve 1 lowers %s, valve 2 %s. ",
                      size_words(arena, one), size_words(arena, two));
    }
    const double three = third >= 0 && (stuck >> third & 1u) == 0
                             ? lowers(notes, (size_t)third)
                             : 0.0;
    if (semitones(three) == 3) {
        hbk_text_addf(text, "Valve 3 lowers %s. ", size_words(arena, three));
    } else if (three > 0.0) {
        hbk_text_addf(text, "Valve 3 lowers %s, not a tone and a half. ",
                      size_words(arena, three));
    }
}

const char *hbk_words_compensation(struct hbk_arena *arena,
                                   const struct hbk_notes *notes)
{
    const struct hbk_horn *horn = notes->horn;
    uint32_t common = UINT32_MAX;
    uint32_t all = 0;
    for (size_t i = 0; i < horn->n_sites; i++) {
        const struct hbk_site *site = &horn->sites[i];
        if (site->kind != HBK_LOOP || site->loop.is_drawn) {
            continue;
        }
        for (size_t t = 0; t < site->n_terms; t++) {
            if (__builtin_popcount(site->terms[t]) > 1) {
                common &= site->terms[t];
                all |= site->terms[t];
            }
        }
    }
    if (all == 0 || (all & stuck_of(notes)) != 0) {
        return "";
    }
    if (common == 0 || common == all) {
        return hbk_arena_printf(arena,
                                "Compensating: valves %s together bring in "
                                "further tubing.",
                                list(arena, horn, all));
    }
    const uint32_t others = all & ~common;
    return hbk_arena_printf(
        arena,
        "Compensating: while valve%s %s is down, valve%s "
        "%s bring%s in further tubing.",
        is_one(common) ? "" : "s", list(arena, horn, common),
        is_one(others) ? "" : "s", list(arena, horn, others),
        is_one(others) ? "s" : "");
}

static void add_valves(struct hbk_text *text, const struct hbk_notes *notes)
{
    const struct hbk_horn *horn = notes->horn;
    const uint32_t valves = hbk_horn_kind_press(horn, HBK_VALVE);
    if (valves == 0) {
        return;
    }
    uint32_t ascending = 0;
    enum hbk_action action = HBK_ACTION_UNKNOWN;
    bool same = true;
    for (size_t i = 0; i < horn->n_controls; i++) {
        const struct hbk_control *control = &horn->controls[i];
        if (control->kind != HBK_VALVE) {
            continue;
        }
        same = same && (valves & ((UINT32_C(1) << i) - 1)) == 0
                   ? true
                   : same && control->action == action;
        action = control->action;
        ascending |= control->rests_in ? UINT32_C(1) << i : 0;
    }
    ascending &= ~stuck_of(notes);
    hbk_text_addf(
        text, "%s %s%s. ",
        hbk_words_count(text->arena, (size_t)__builtin_popcount(valves), true),
        hbk_words_action(same ? action : HBK_ACTION_UNKNOWN),
        is_one(valves) ? "" : "s");
    add_valve_order(text, notes);
    if (ascending == (valves & ~stuck_of(notes)) && !is_one(ascending) &&
        ascending != 0) {
        hbk_text_add(text, "ASCENDING: pressing a valve takes tubing out and "
                           "raises the pitch. ");
    } else if (ascending != 0) {
        hbk_text_addf(text,
                      "ASCENDING: pressing valve%s %s takes tubing out and "
                      "raises the pitch. ",
                      is_one(ascending) ? "" : "s",
                      list(text->arena, horn, ascending));
    }
    const char *const compensation = hbk_words_compensation(text->arena, notes);
    hbk_text_addf(text, "%s%s", compensation,
                  compensation[0] == '\0' ? "" : " ");
}

static void add_alone(struct hbk_text *text, const struct hbk_notes *notes)
{
    const struct hbk_horn *horn = notes->horn;
    uint32_t alone = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        alone |= horn->controls[i].alone ? UINT32_C(1) << i : 0;
    }
    /* What sticks is not worked at all. */
    alone &= ~stuck_of(notes);
    const uint32_t valves =
        hbk_horn_kind_press(horn, HBK_VALVE) & ~stuck_of(notes);
    if (alone != 0 && alone == valves && !is_one(valves)) {
        hbk_text_add(text, alone == hbk_horn_kind_press(horn, HBK_VALVE)
                               ? "INDEPENDENT: the valves are used one at a "
                                 "time, never together. "
                               : "INDEPENDENT: the valves that move are used "
                                 "one at a time. ");
    } else if (alone != 0) {
        hbk_text_addf(text, "Worked only alone: %s. ",
                      list(text->arena, horn, alone));
    }
}

/* What each trigger moves, and how far. */
static void add_triggers(struct hbk_text *text, const struct hbk_notes *notes)
{
    const struct hbk_horn *horn = notes->horn;
    const uint32_t triggers = hbk_horn_kind_press(horn, HBK_TRIGGER);
    for (size_t i = 0; i < horn->n_sites; i++) {
        const struct hbk_site *site = &horn->sites[i];
        if (site->kind != HBK_LOOP || !site->loop.is_drawn ||
            (site->terms[0] & stuck_of(notes)) != 0) {
            continue;
        }
        const uint32_t trigger = site->terms[0] & triggers;
        const uint32_t valve = site->terms[0] & ~triggers;
        hbk_text_addf(text,
                      "Trigger %s moves %s%s while playing, up to %.0f "
                      "mm. ",
                      list(text->arena, horn, trigger),
                      valve == 0 ? "a slide" : "the slide of valve ",
                      list(text->arena, horn, valve),
                      site->loop.value * 1e3 / site->loop.legs);
    }
}

const char *hbk_words_system(struct hbk_arena *arena,
                             const struct hbk_notes *notes)
{
    struct hbk_text text = {.arena = arena};
    if (notes->horn->n_controls == 0) {
        return "A natural instrument without keys or valves: the lips alone "
               "choose the note, from the natural series of the tube. ";
    }
    add_keys(&text, notes);
    add_wide_keys(&text, notes);
    add_valves(&text, notes);
    add_triggers(&text, notes);
    add_alone(&text, notes);
    return hbk_text_string(&text);
}
