#include "horn/about.h"
#include "music/pitch.h"
#include "sheet/words/beside_side.h"
#include "sheet/words/words.h"
#include "sheet/words/words_beside.h"
#include "sheet/words/words_signs.h"

#include <math.h>
#include <string.h>

/* Semitones by which a valve of that name lowers; 0 for no such valve. */
static int lowers(const struct hbk_notes *notes, const char *name)
{
    const int i = hbk_horn_find_control(notes->horn, HBK_VALVE, name);
    if (i < 0 || hbk_notes_stuck(notes, (size_t)i)) {
        return 0;
    }
    const double cents = notes->effect_cents[i];
    return isnan(cents) ? 0 : (int)lround(-cents / HBK_SEMITONE_CENTS);
}

/* Whether valves 1 and 2 do each other's work on the horn known. */
static bool are_swapped(const struct hbk_notes *here,
                        const struct hbk_notes *known)
{
    const int one = lowers(here, "1");
    const int two = lowers(here, "2");
    return one > 0 && two > 0 && one != two && one == lowers(known, "2") &&
           two == lowers(known, "1");
}

static const char *valve_interval(struct hbk_arena *arena, int semitones)
{
    return semitones == 2 ? "a whole tone"
                          : hbk_words_interval(arena, semitones);
}

static const char *reversed(struct hbk_arena *arena,
                            const struct hbk_notes *here)
{
    return hbk_arena_printf(arena, "REVERSED VALVES: valve 1 %s, valve 2 %s",
                            valve_interval(arena, lowers(here, "1")),
                            valve_interval(arena, lowers(here, "2")));
}

const char *hbk_beside_warning(struct hbk_arena *arena,
                               const struct hbk_notes *here,
                               const struct hbk_notes *known)
{
    return are_swapped(here, known) ? reversed(arena, here) : "";
}

const char *hbk_words_reversed(struct hbk_arena *arena,
                               const struct hbk_notes *notes)
{
    return lowers(notes, "1") == 1 && lowers(notes, "2") == 2
               ? hbk_arena_printf(arena, "%s. ", reversed(arena, notes))
               : "";
}

/* What the newcomer would do the wrong way: 1 for 2 and 2 for 1. */
static void add_swapped(struct hbk_text *text, const struct hbk_side *here,
                        const struct hbk_side *known)
{
    if (are_swapped(here->notes, known->notes)) {
        hbk_side_say(
            text,
            hbk_arena_printf(
                text->arena,
                "Valve 1 lowers %s and valve 2 %s, the other "
                "way round than you are used to: what you know "
                "as 1 is 2 here, and 2 is 1. Nothing on the "
                "horn shows it.",
                hbk_words_interval(text->arena, lowers(here->notes, "1")),
                hbk_words_interval(text->arena, lowers(here->notes, "2"))));
    }
}

/* A control that does one thing here and the opposite on the horn known. */
static void add_turned(struct hbk_text *text, const struct hbk_horn *horn,
                       uint32_t set, const char *one, const char *several)
{
    if (set != 0) {
        hbk_side_say(
            text, hbk_arena_printf(text->arena, "%s %s.",
                                   hbk_side_list_first(text->arena, horn, set),
                                   hbk_side_count(set) == 1 ? one : several));
    }
}

static void add_opposites(struct hbk_text *text, const struct hbk_side *here,
                          const struct hbk_side *known)
{
    const struct hbk_horn *const horn = here->horn;
    add_turned(text, horn, hbk_side_shared(here, here->up, known, known->down),
               "raises the pitch here; on the horn you know it lowers it",
               "raise the pitch here; on the horn you know they lower it");
    add_turned(text, horn, hbk_side_shared(here, here->down, known, known->up),
               "lowers the pitch here; on the horn you know it raises it",
               "lower the pitch here; on the horn you know they raise it");
    add_turned(text, horn,
               hbk_side_shared(here, here->open, known, known->shut),
               "closes its hole here and lowers the pitch; on the horn you "
               "know it opens its hole and raises it",
               "close their holes here and lower the pitch; on the horn you "
               "know they open them and raise it");
    add_turned(text, horn,
               hbk_side_shared(here, here->shut, known, known->open),
               "opens its hole here and raises the pitch; on the horn you "
               "know it closes its hole and lowers it",
               "open their holes here and raise the pitch; on the horn you "
               "know they close them and lower it");
}

/*
 * One finger against all the others: "Only key 1 lengthens." Told where the
 * horn known has not the same.
 */
static void add_only(struct hbk_text *text, const struct hbk_side *here,
                     const struct hbk_side *known)
{
    struct hbk_arena *const arena = text->arena;
    const uint32_t longer = here->open | here->down;
    const uint32_t shorter = here->shut | here->up;
    const uint32_t knew_longer = known->open | known->down;
    const uint32_t knew_shorter = known->shut | known->up;
    const bool mixed = longer != 0 && shorter != 0;
    const bool knew_one = hbk_side_count(knew_longer) == 1 && knew_shorter != 0;
    const bool same =
        knew_one && hbk_side_shared(here, longer, known, knew_longer) == longer;
    const size_t n = hbk_side_count(longer);
    if (mixed && !same && (n == 1 || (n == 2 && here->shut != 0))) {
        hbk_side_say(text, hbk_arena_printf(
                               arena, "Only %s lengthen%s%s.",
                               hbk_side_list(arena, here->horn, longer),
                               n == 1 ? "s" : "",
                               knew_longer != 0 && knew_shorter == 0
                                   ? ", as every finger does on the horn you "
                                     "know"
                                   : ""));
    } else if (longer != 0 && shorter == 0 && knew_one) {
        hbk_side_say(text, hbk_arena_printf(
                               arena,
                               "Every finger lengthens here, as only %s "
                               "does on the horn you know.",
                               hbk_side_list(arena, known->horn, knew_longer)));
    } else if (shorter != 0 && longer == 0 && knew_one) {
        hbk_side_say(text, hbk_arena_printf(
                               arena,
                               "No finger lengthens here; on the horn "
                               "you know %s does.",
                               hbk_side_list(arena, known->horn, knew_longer)));
    }
}

/* Controls of the same number, by the finger that works them. */
struct moved {
    uint32_t all;        /* with a twin on the horn known */
    uint32_t finger;     /* of these, under another finger there */
    size_t hands;        /* of these, under the other hand */
    bool from[2], to[2]; /* hands of all, right and left: there, here */
};

static struct moved moved_of(const struct hbk_side *here,
                             const struct hbk_side *known)
{
    struct moved moved = {0};
    for (size_t i = 0; i < hbk_horn_n_controls(here->horn); i++) {
        const int twin = (hbk_side_moves(here) >> i & 1u) != 0
                             ? hbk_side_twin(here, i, known)
                             : -1;
        if (twin < 0) {
            continue;
        }
        const enum hbk_finger now = hbk_horn_control(here->horn, i)->fingers[0];
        const enum hbk_finger then =
            hbk_horn_control(known->horn, (size_t)twin)->fingers[0];
        moved.all |= UINT32_C(1) << i;
        moved.finger |= now != then ? UINT32_C(1) << i : 0;
        moved.hands +=
            hbk_finger_is_left(now) != hbk_finger_is_left(then) ? 1 : 0;
        moved.to[hbk_finger_is_left(now)] = true;
        moved.from[hbk_finger_is_left(then)] = true;
    }
    return moved;
}

/* "Key 3 lies under the left thumb, on the horn you know under ...". */
static void add_finger(struct hbk_text *text, const struct hbk_side *here,
                       size_t control, const struct hbk_side *known)
{
    const int twin = hbk_side_twin(here, control, known);
    hbk_side_say(
        text,
        hbk_arena_printf(
            text->arena, "%s is under the %s, not the %s.",
            hbk_side_list_first(text->arena, here->horn,
                                UINT32_C(1) << control),
            hbk_finger_words(hbk_horn_control(here->horn, control)->fingers[0]),
            hbk_finger_words(
                hbk_horn_control(known->horn, (size_t)twin)->fingers[0])));
}

static void add_fingers(struct hbk_text *text, const struct hbk_side *here,
                        const struct hbk_side *known)
{
    struct hbk_arena *const arena = text->arena;
    const struct moved moved = moved_of(here, known);
    const size_t n = hbk_side_count(moved.all);
    const size_t n_moved = hbk_side_count(moved.finger);
    const bool one_hand_each =
        moved.from[0] != moved.from[1] && moved.to[0] != moved.to[1];
    if (n > 1 && moved.hands == n && one_hand_each) {
        hbk_side_say(text,
                     hbk_arena_printf(arena,
                                      "The hands change places: the %s hand "
                                      "presses what the %s hand presses on the "
                                      "horn you know.",
                                      moved.to[1] ? "left" : "right",
                                      moved.from[1] ? "left" : "right"));
    } else if (n_moved > 0 && n_moved <= 2) {
        for (size_t i = 0; i < hbk_horn_n_controls(here->horn); i++) {
            if ((moved.finger >> i & 1u) != 0) {
                add_finger(text, here, i, known);
            }
        }
    } else if (n_moved > 0) {
        hbk_side_say(text, hbk_arena_printf(
                               arena,
                               "The same number is not the same finger: "
                               "%s %s%s than you know.",
                               hbk_side_list(arena, here->horn, moved.finger),
                               n_moved == n ? "all " : "",
                               "are under other fingers"));
    }
}

const char *hbk_beside_reversed(struct hbk_arena *arena,
                                const struct hbk_notes *here,
                                const struct hbk_notes *known)
{
    const struct hbk_side now = hbk_side_of(here);
    const struct hbk_side then = hbk_side_of(known);
    struct hbk_text text = {.arena = arena};
    add_swapped(&text, &now, &then);
    add_opposites(&text, &now, &then);
    add_only(&text, &now, &then);
    add_fingers(&text, &now, &then);
    if (text.length == 0) {
        hbk_side_say(&text,
                     moved_of(&now, &then).all != 0
                         ? "Nothing is reversed: every number you know raises "
                           "or lowers as it did, under the same finger."
                     : hbk_side_moves(&now) == 0
                         ? "Nothing is reversed: there is nothing to "
                           "press here."
                     : hbk_side_moves(&then) == 0
                         ? "Nothing is reversed: on the horn you know "
                           "there was nothing to press."
                         : "Nothing is reversed: no number you know is "
                           "found again here.");
    }
    return hbk_text_string(&text);
}
