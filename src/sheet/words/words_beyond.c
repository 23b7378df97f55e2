#include "horn/about.h"
#include "music/pitch.h"
#include "sheet/words/beside_side.h"
#include "sheet/words/words.h"
#include "sheet/words/words_beside.h"
#include "sheet/words/words_system.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

/* Effects that are further apart are not the same, cents. */
static const double other_effect = 50.0;

/* The first words of names that stand without a capital in a sentence. */
static const char *const common_names[] = {
    "Alto",       "Baritone",  "Bass",   "Bombardon", "Bugle",     "Contralto",
    "Cornet",     "Cornopean", "Duty",   "Echo",      "Euphonium", "Five",
    "Flugelhorn", "Four",      "Hand",   "Horn",      "Keyed",     "Natural",
    "Ophicleide", "Piston",    "Pocket", "Post",      "Rotary",    "Saxhorn",
    "Serpent",    "Six",       "Slide",  "Soprano",   "Tenor",     "Three",
    "Trombone",   "Trumpet",   "Tuba",   "Two",       "Valve",     "Valved"};

/* A name that does not begin with a kind of horn stays as it is. */
const char *hbk_beside_called(struct hbk_arena *arena, const char *name)
{
    const size_t first = strcspn(name, " ,");
    for (size_t i = 0; i < sizeof(common_names) / sizeof(common_names[0]);
         i++) {
        if (strlen(common_names[i]) == first &&
            strncmp(common_names[i], name, first) == 0) {
            return hbk_arena_printf(arena, "the %c%s",
                                    tolower((unsigned char)name[0]), name + 1);
        }
    }
    return name;
}

const char *hbk_beside_coming(struct hbk_arena *arena,
                              const struct hbk_notes *here,
                              const struct hbk_notes *known)
{
    const char *const name = hbk_horn_name(known->horn);
    const char *const other = hbk_horn_name(here->horn);
    const size_t length = strcspn(name, ",");
    const bool alike =
        length == strcspn(other, ",") && strncmp(name, other, length) == 0;
    const char *const told = alike ? name : hbk_arena_copy(arena, name, length);
    return hbk_arena_printf(arena, "Coming from %s",
                            hbk_beside_called(arena, told));
}

/* ---- Keys and valves that the other horn has not ----------------------- */

static uint32_t of_kind(const struct hbk_side *side, enum hbk_control_kind kind)
{
    uint32_t set = 0;
    const uint32_t moves = hbk_side_moves(side) | side->triggers;
    for (size_t i = 0; i < hbk_horn_n_controls(side->horn); i++) {
        set |= hbk_horn_control(side->horn, i)->kind == kind ? UINT32_C(1) << i
                                                             : 0;
    }
    return set & moves;
}

/* "lowers a fourth"; "" where it is not known, or is no interval. */
static const char *moves_words(struct hbk_arena *arena,
                               const struct hbk_side *side, size_t control)
{
    const double cents = side->notes->effect_cents[control];
    if (isnan(cents) ||
        hbk_horn_control(side->horn, control)->kind == HBK_TRIGGER ||
        !hbk_effect_is_interval(side->notes, control)) {
        return "";
    }
    return hbk_arena_printf(
        arena, "%s %s", cents < 0.0 ? "lowers" : "raises",
        hbk_words_interval(arena, (int)lround(cents / HBK_SEMITONE_CENTS)));
}

/* "Valve 4 is new: under the left index finger, it lowers a fourth." */
static void add_new(struct hbk_text *text, const struct hbk_side *here,
                    size_t control)
{
    const struct hbk_control *const what =
        hbk_horn_control(here->horn, control);
    const char *const moves = moves_words(text->arena, here, control);
    hbk_side_say(text,
                 hbk_arena_printf(text->arena, "%s is new: under the %s%s%s.",
                                  hbk_side_list_first(text->arena, here->horn,
                                                      UINT32_C(1) << control),
                                  hbk_finger_words(what->fingers[0]),
                                  moves[0] == '\0' ? "" : ", it ", moves));
}

/* Those of this horn that would be what is gone, if they moved. */
static uint32_t stuck_here(const struct hbk_side *here,
                           const struct hbk_side *known, uint32_t gone)
{
    uint32_t stuck = 0;
    for (size_t i = 0; i < hbk_horn_n_controls(known->horn); i++) {
        const struct hbk_control *const was = hbk_horn_control(known->horn, i);
        const int now =
            (gone >> i & 1U) == 0
                ? -1
                : hbk_horn_find_control(here->horn, was->kind, was->name);
        stuck |= now >= 0 && hbk_notes_stuck(here->notes, (size_t)now)
                     ? UINT32_C(1) << now
                     : 0;
    }
    return stuck;
}

/*
 * What is more or less of a kind that both horns have; that a horn with keys
 * has keys goes without saying.
 */
static void add_more(struct hbk_text *text, const struct hbk_side *here,
                     const struct hbk_side *known, enum hbk_control_kind kind)
{
    struct hbk_arena *const arena = text->arena;
    const uint32_t now = of_kind(here, kind);
    const uint32_t then = of_kind(known, kind);
    if (now == 0 || then == 0) {
        return;
    }
    const uint32_t fresh = now & ~hbk_side_shared(here, now, known, then);
    const uint32_t gone = then & ~hbk_side_shared(known, then, here, now);
    if (hbk_side_count(fresh) > 2) {
        hbk_side_say(text, hbk_arena_printf(
                               arena, "%s are new.",
                               hbk_side_list_first(arena, here->horn, fresh)));
    }
    for (size_t i = 0;
         hbk_side_count(fresh) <= 2 && i < hbk_horn_n_controls(here->horn);
         i++) {
        if ((fresh >> i & 1u) != 0) {
            add_new(text, here, i);
        }
    }
    const uint32_t stuck = stuck_here(here, known, gone);
    if (stuck != 0) {
        hbk_side_say(text, hbk_arena_printf(
                               arena, "%s %s stuck on this horn.",
                               hbk_side_list_first(arena, here->horn, stuck),
                               hbk_side_count(stuck) == 1 ? "is" : "are"));
    } else if (gone != 0) {
        hbk_side_say(text,
                     hbk_arena_printf(arena, "There %s no %s.",
                                      hbk_side_count(gone) == 1 ? "is" : "are",
                                      hbk_side_list(arena, known->horn, gone)));
    }
}

/* ---- The same number with another interval ----------------------------- */

static bool is_swapped(const struct hbk_control *control)
{
    return control->kind == HBK_VALVE &&
           (strcmp(control->name, "1") == 0 || strcmp(control->name, "2") == 0);
}

/* Which do the same way something else; those that are reversed are told. */
static uint32_t other_effects(const struct hbk_side *here,
                              const struct hbk_side *known, bool swapped)
{
    uint32_t set = 0;
    for (size_t i = 0; i < hbk_horn_n_controls(here->horn); i++) {
        const int twin = (hbk_side_moves(here) >> i & 1u) != 0
                             ? hbk_side_twin(here, i, known)
                             : -1;
        if (twin < 0 ||
            (swapped && is_swapped(hbk_horn_control(here->horn, i)))) {
            continue;
        }
        const double now = here->notes->effect_cents[i];
        const double then = known->notes->effect_cents[twin];
        const bool same_way = now * then > 0.0;
        set |=
            same_way && fabs(now - then) > other_effect ? UINT32_C(1) << i : 0;
    }
    return set;
}

/* "Valve 3 lowers two tones; on the horn you know it lowers ...". */
static void add_other_effect(struct hbk_text *text, const struct hbk_side *here,
                             size_t control, const struct hbk_side *known)
{
    struct hbk_arena *const arena = text->arena;
    const size_t twin = (size_t)hbk_side_twin(here, control, known);
    const char *const list =
        hbk_side_list_first(arena, here->horn, UINT32_C(1) << control);
    const char *const does = moves_words(arena, here, control);
    const char *const did = moves_words(arena, known, twin);
    hbk_side_say(text, does[0] == '\0' || did[0] == '\0'
                           ? hbk_arena_printf(arena,
                                              "%s moves the pitch by another "
                                              "interval than you know.",
                                              list)
                           : hbk_arena_printf(
                                 arena, "%s %s; on the horn you know it %s.",
                                 list, does, did));
}

static void add_other_effects(struct hbk_text *text,
                              const struct hbk_side *here,
                              const struct hbk_side *known)
{
    struct hbk_arena *const arena = text->arena;
    const bool swapped =
        hbk_beside_warning(arena, here->notes, known->notes)[0] != '\0';
    const uint32_t set = other_effects(here, known, swapped);
    if (hbk_side_count(set) > 2) {
        hbk_side_say(text, hbk_arena_printf(
                               arena,
                               "%s move the pitch by other intervals than you "
                               "know.",
                               hbk_side_list_first(arena, here->horn, set)));
        return;
    }
    for (size_t i = 0; i < hbk_horn_n_controls(here->horn); i++) {
        if ((set >> i & 1u) != 0) {
            add_other_effect(text, here, i, known);
        }
    }
}

/* ---- How the hands go about it ----------------------------------------- */

/* Controls that are never pressed with another. */
static uint32_t alone_of(const struct hbk_side *side)
{
    uint32_t alone = 0;
    for (size_t i = 0; i < hbk_horn_n_controls(side->horn); i++) {
        alone |= hbk_horn_control(side->horn, i)->alone ? UINT32_C(1) << i : 0;
    }
    return alone & hbk_side_moves(side);
}

static void add_alone(struct hbk_text *text, const struct hbk_side *here,
                      const struct hbk_side *known)
{
    struct hbk_arena *const arena = text->arena;
    const uint32_t alone = alone_of(here);
    const bool knew = alone_of(known) != 0;
    if (hbk_side_count(alone) > 1 && !knew) {
        hbk_side_say(text, hbk_arena_printf(
                               arena,
                               "%s are used one at a time, never "
                               "together.",
                               hbk_side_list_first(arena, here->horn, alone)));
    } else if (alone == 0 && knew && hbk_side_count(here->down) > 1) {
        hbk_side_say(text, "The valves are also pressed together, not only "
                           "one at a time.");
    }
}

/* The hands that have something to press: bit 0 right, bit 1 left. */
static unsigned hands_of(const struct hbk_side *side)
{
    unsigned hands = 0;
    for (size_t i = 0; i < hbk_horn_n_controls(side->horn); i++) {
        if ((hbk_side_moves(side) >> i & 1u) != 0) {
            hands |=
                hbk_finger_is_left(hbk_horn_control(side->horn, i)->fingers[0])
                    ? 2u
                    : 1u;
        }
    }
    return hands;
}

static void add_hands(struct hbk_text *text, const struct hbk_side *here,
                      const struct hbk_side *known)
{
    static const char *const words[] = {"", "the right hand", "the left hand",
                                        "both hands"};
    const unsigned now = hands_of(here);
    const unsigned then = hands_of(known);
    if (now == 0 || then == 0 || now == then || (now != 3 && then != 3)) {
        return;
    }
    hbk_side_say(
        text, now == 3
                  ? hbk_arena_printf(text->arena,
                                     "Both hands are used here; on the horn "
                                     "you know %s alone.",
                                     words[then])
                  : hbk_arena_printf(text->arena,
                                     "Here %s alone is used; on the horn you "
                                     "know both are.",
                                     words[now]));
}

static void add_triggers(struct hbk_text *text, const struct hbk_side *here,
                         const struct hbk_side *known)
{
    if (here->triggers != 0 && known->triggers == 0) {
        const bool one = hbk_side_count(here->triggers) == 1;
        hbk_side_say(text, hbk_arena_printf(
                               text->arena, "%s move%s a slide while you play.",
                               hbk_side_list_first(text->arena, here->horn,
                                                   here->triggers),
                               one ? "s" : ""));
    }
    const bool compensates =
        hbk_words_compensation(text->arena, here->notes)[0] != '\0';
    if (compensates &&
        hbk_words_compensation(text->arena, known->notes)[0] == '\0') {
        hbk_side_say(text, hbk_words_compensation(text->arena, here->notes));
    }
}

const char *hbk_beside_beyond(struct hbk_arena *arena,
                              const struct hbk_notes *here,
                              const struct hbk_notes *known)
{
    const struct hbk_side now = hbk_side_of(here);
    const struct hbk_side then = hbk_side_of(known);
    struct hbk_text text = {.arena = arena};
    add_more(&text, &now, &then, HBK_KEY);
    add_more(&text, &now, &then, HBK_VALVE);
    add_other_effects(&text, &now, &then);
    add_alone(&text, &now, &then);
    add_hands(&text, &now, &then);
    add_triggers(&text, &now, &then);
    return hbk_text_string(&text);
}
