#include "lesson/movement.h"

#include "base/text.h"
#include "horn/press.h"
#include "passage/move_words.h"
#include "passage/trill.h"

#include <math.h>
#include <stdlib.h>

enum { FIFTH = 7, FOURTH = 5, THIRD = 3, OCTAVE = 12, STEP = 2, NO_PAIR = 99 };

static char *called_in(const struct hbk_plan *plan, int key, int written,
                       char name[HBK_NAME_SIZE])
{
    const int fifths = hbk_pupil_fifths(plan->pupil.home, key);
    return hbk_pupil_called(&plan->pupil, hbk_spelling_in_key(written, fifths),
                            name);
}

/* How hard a slur is: fingers to hold, and how wide; NO_PAIR for none. */
static int weigh_slur(const struct hbk_plan *plan, int low, int high)
{
    const struct hbk_fingering *const from =
        hbk_pupil_fingering(&plan->pupil, low);
    const struct hbk_fingering *const to =
        hbk_pupil_fingering(&plan->pupil, high);
    const int pair[] = {low, high};
    if (plan->taught[low] == 0 || plan->taught[high] == 0 ||
        from->press != to->press || from->partial + 1 != to->partial ||
        high - low < THIRD ||
        abs(hbk_plan_key(plan, pair, 2)) > HBK_PLAN_KEY_MOST) {
        return NO_PAIR;
    }
    return OCTAVE * (int)hbk_pupil_fingers(from) + high - low;
}

static bool find_slurs(const struct hbk_plan *plan,
                       struct hbk_movement *movement)
{
    int last = -1;
    /* Rising weight, and of equal ones the lowest: each is found once. */
    while (movement->n_pairs < HBK_MOVEMENT_PAIRS) {
        int least = NO_PAIR;
        struct hbk_slur_pair best = {0, 0};
        for (int low = plan->pupil.low; low < plan->pupil.high; low++) {
            for (int high = low + THIRD;
                 high <= low + FIFTH && high <= plan->pupil.high; high++) {
                const int weight = weigh_slur(plan, low, high);
                const bool fits =
                    movement->n_pairs == 0 ||
                    (hbk_pupil_is_of_key(&plan->pupil, low, movement->key) &&
                     hbk_pupil_is_of_key(&plan->pupil, high, movement->key));
                if (fits && weight > last && weight < least) {
                    least = weight;
                    best = (struct hbk_slur_pair){low, high};
                }
            }
        }
        if (least == NO_PAIR) {
            break;
        }
        if (movement->n_pairs == 0) {
            const int pair[] = {best.low, best.high};
            movement->key = hbk_plan_key(plan, pair, 2);
        }
        movement->pairs[movement->n_pairs++] = best;
        last = least;
    }
    return movement->n_pairs > 0;
}

static bool find_slur(const struct hbk_plan *plan,
                      struct hbk_movement *movement, struct hbk_arena *arena)
{
    if (!find_slurs(plan, movement)) {
        return false;
    }
    movement->from = movement->pairs[0].low;
    movement->to = movement->pairs[0].high;
    char low[HBK_NAME_SIZE];
    char high[HBK_NAME_SIZE];
    movement->why = hbk_arena_printf(
        arena,
        "From %s to %s and back the lips alone move: keep the breath going, "
        "the lips firmer on the way up and looser on the way down.",
        called_in(plan, movement->key, movement->from, low),
        called_in(plan, movement->key, movement->to, high));
    return true;
}

static bool find_chord(const struct hbk_plan *plan,
                       struct hbk_movement *movement, struct hbk_arena *arena)
{
    static const int keys[] = {0, -1, 1};
    static const int chord[HBK_STUDY_CHORD] = {0, 4, FIFTH, OCTAVE};
    for (size_t k = 0; k < sizeof(keys) / sizeof(keys[0]); k++) {
        const int tonic =
            plan->pupil.home + (keys[k] * FIFTH + OCTAVE) % OCTAVE;
        bool all = true;
        for (size_t i = 0; i < HBK_STUDY_CHORD; i++) {
            movement->chord[i] = tonic + chord[i];
            all = all && movement->chord[i] <= HBK_NOTE_MAX &&
                  plan->taught[movement->chord[i]] > 0 &&
                  (i == 0 || hbk_moves_allow(&plan->moves, movement->chord[i],
                                             movement->chord[i - 1]));
        }
        if (all) {
            char low[HBK_NAME_SIZE];
            char high[HBK_NAME_SIZE];
            movement->key = keys[k];
            movement->from = movement->chord[0];
            movement->to = movement->chord[HBK_STUDY_CHORD - 1];
            movement->why = hbk_arena_printf(
                arena,
                "The chord from %s to %s: hear each note before you play it, "
                "for a horn gives the next one to a lip that is not sure.",
                called_in(plan, keys[k], movement->from, low),
                called_in(plan, keys[k], movement->to, high));
            return true;
        }
    }
    return false;
}

static uint32_t press_of(const struct hbk_plan *plan, int written)
{
    return hbk_pupil_fingering(&plan->pupil, written)->press;
}

/*
 * Whether two notes make a lesson: a hard step, or a skip of the same keys as a
 * step that was told with a finger that stays down, which the skip has not.
 */
static bool is_lesson(const struct hbk_plan *plan, int low, int high)
{
    const int pair[] = {low, high};
    return plan->taught[low] > 0 && plan->taught[high] > 0 &&
           !hbk_moves_allow(&plan->moves, low, high) &&
           (high - low <= STEP || hbk_moves_have(&plan->told, low, high)) &&
           abs(hbk_plan_key(plan, pair, 2)) <= HBK_PLAN_KEY_MOST;
}

/* The easiest of them; false for none. */
static bool find_pair(const struct hbk_plan *plan,
                      struct hbk_movement *movement)
{
    const struct hbk_pupil *const pupil = &plan->pupil;
    double least = INFINITY;
    for (int low = pupil->low; low < pupil->high; low++) {
        for (int high = low + 1; high <= low + FOURTH && high <= pupil->high;
             high++) {
            if (!is_lesson(plan, low, high)) {
                continue;
            }
            const int pair[] = {low, high};
            const struct hbk_ease_move move = hbk_pupil_move(pupil, low, high);
            const double price = hbk_ease_move_price(&move);
            if (price < least) {
                least = price;
                movement->from = low;
                movement->to = high;
                movement->key = hbk_plan_key(plan, pair, 2);
            }
        }
    }
    return !isinf(least);
}

/* " Quickly to and fro it is easier as A3 10, Bb3 10-11." where that is so. */
static const char *trill_words(const struct hbk_plan *plan,
                               const struct hbk_movement *movement,
                               const char *low, const char *high,
                               struct hbk_arena *arena)
{
    const struct hbk_pupil *const pupil = &plan->pupil;
    const struct hbk_horn *const horn = pupil->notes->horn;
    const struct hbk_trill trill =
        hbk_trill_find(&pupil->keywork, pupil->notes, movement->from,
                       movement->to - movement->from, NULL);
    char main[HBK_LABEL_SIZE];
    char upper[HBK_LABEL_SIZE];
    return movement->to - movement->from > STEP || trill.kind != HBK_TRILL_EASY
               ? ""
               : hbk_arena_printf(
                     arena, " Quickly to and fro it is easier as %s %s, %s %s.",
                     low, hbk_horn_press_label(horn, trill.main->press, main),
                     high,
                     hbk_horn_press_label(horn, trill.upper->press, upper));
}

static bool find_move(const struct hbk_plan *plan,
                      struct hbk_movement *movement, struct hbk_arena *arena)
{
    if (!find_pair(plan, movement)) {
        return false;
    }
    char low[HBK_NAME_SIZE];
    char high[HBK_NAME_SIZE];
    char words[HBK_MOVE_WORDS_SIZE];
    (void)called_in(plan, movement->key, movement->from, low);
    (void)called_in(plan, movement->key, movement->to, high);
    movement->why = hbk_arena_printf(
        arena,
        "The %s from %s to %s is awkward: %s. Slowly, until both go as one.%s",
        movement->to - movement->from > STEP ? "skip" : "step", low, high,
        hbk_presses_words(&plan->pupil.keywork, press_of(plan, movement->from),
                          press_of(plan, movement->to), HBK_EASE_AWKWARD,
                          words),
        trill_words(plan, movement, low, high, arena));
    return true;
}

/* Whether a step of the key from or to a note may be made. */
static bool has_step(const struct hbk_plan *plan, int key, int written)
{
    for (int w = written - STEP; w <= written + STEP; w++) {
        if (w >= plan->pupil.low && w <= plan->pupil.high && w != written &&
            plan->taught[w] > 0 && hbk_pupil_is_of_key(&plan->pupil, w, key) &&
            hbk_moves_allow(&plan->moves, w, written)) {
            return true;
        }
    }
    return false;
}

bool hbk_movement_along(const struct hbk_plan *plan, int key, int written,
                        struct hbk_movement *movement, struct hbk_arena *arena)
{
    *movement = (struct hbk_movement){.kind = HBK_LESSON_MOVE};
    if (plan->first.is_open || hbk_pupil_is_of_key(&plan->pupil, written, 0) ||
        has_step(plan, key, written) || !find_move(plan, movement, arena)) {
        return false;
    }
    const int other = movement->from + movement->to - written;
    return (movement->from == written || movement->to == written) &&
           hbk_pupil_is_of_key(&plan->pupil, other, key);
}

static bool find_call(const struct hbk_plan *plan,
                      struct hbk_movement *movement, struct hbk_arena *arena)
{
    enum { LEAST = 3 };
    size_t n = 0;
    for (int w = plan->pupil.low; w <= plan->pupil.high; w++) {
        if (plan->taught[w] > 0) {
            movement->from = n == 0 ? w : movement->from;
            movement->to = w;
            n++;
        }
    }
    char low[HBK_NAME_SIZE];
    char high[HBK_NAME_SIZE];
    movement->why = hbk_arena_printf(
        arena,
        "A call of the notes from %s to %s: clap its rhythm before you play.",
        called_in(plan, 0, movement->from, low),
        called_in(plan, 0, movement->to, high));
    return plan->first.is_open && n >= LEAST;
}

bool hbk_movement_find(const struct hbk_plan *plan, enum hbk_lesson_kind kind,
                       struct hbk_movement *movement, struct hbk_arena *arena)
{
    *movement = (struct hbk_movement){.kind = kind};
    switch (kind) {
    case HBK_LESSON_SLUR:
        return find_slur(plan, movement, arena);
    case HBK_LESSON_CHORD:
        return find_chord(plan, movement, arena);
    case HBK_LESSON_MOVE:
        return find_move(plan, movement, arena);
    case HBK_LESSON_CALL:
        return find_call(plan, movement, arena);
    case HBK_LESSON_NOTES:
        break;
    }
    return false;
}

struct hbk_study hbk_movement_study(const struct hbk_movement *movement,
                                    const struct hbk_study_wish *wish,
                                    struct hbk_arena *arena)
{
    if (movement->kind == HBK_LESSON_SLUR) {
        return hbk_study_slurs(movement->pairs, movement->n_pairs, wish, arena);
    }
    if (movement->kind == HBK_LESSON_CHORD) {
        return hbk_study_chord(movement->chord, wish, arena);
    }
    if (movement->kind == HBK_LESSON_CALL) {
        return hbk_study_make(wish, arena);
    }
    /* It goes slowly, in halves and quarters. */
    enum { SLOW = 6 };
    struct hbk_study_wish paired = *wish;
    paired.rhythm = wish->rhythm < SLOW ? wish->rhythm : SLOW;
    paired.n_new = 2;
    paired.added[0] = movement->from;
    paired.added[1] = movement->to;
    paired.paired = true;
    return hbk_study_make(&paired, arena);
}
