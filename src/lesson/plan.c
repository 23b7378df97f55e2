#include "lesson/plan.h"

#include "horn/about.h"

#include <math.h>
#include <stdlib.h>

enum { OCTAVE = 12, STEP = 2, FIFTH = 7 };

/* Each semitone over a tone from what is known, in squared cents; ours. */
static const double far_price = 2000.0;
/* For the pair that do re or mi fa begin with; likewise. */
static const double tonic_bonus = 100.0;
/* Each semitone outside the first octave asks more of the lip; likewise. */
static const double outside_price = 30.0;
/* Each sign of the nearest key that has a note; likewise. */
static const double sign_price = 150.0;
/* More than this no beginner bends a note, cents; likewise. */
static const double bend_most_cents = 45.0;

/*
 * A note belongs to the first part that has it: from so many semitones above
 * the pupil's C4 to so many, of major keys up to so many signs. The ranges are
 * those of grades and levels; see SOURCES.md.
 */
static const struct {
    int low, high, signs;
} parts[HBK_PLAN_BEYOND] = {
    [HBK_PLAN_FIRST] = {0, -1, 0}, /* hbk_first_find() has them */
    [HBK_PLAN_OCTAVE] = {0, OCTAVE, 0},
    [HBK_PLAN_KEYS] = {0, OCTAVE, 1},
    [HBK_PLAN_ROUND] = {-1, 14, 1},
    [HBK_PLAN_MORE_KEYS] = {-1, 14, 2},
    [HBK_PLAN_RANGE] = {-3, 16, 2},
    [HBK_PLAN_CHROMATIC] = {-3, 16, 6},
    [HBK_PLAN_LOW] = {-HBK_LESSON_BELOW, 16, 6},
    [HBK_PLAN_HIGH] = {-HBK_LESSON_BELOW, HBK_LESSON_ABOVE, 6}};

/* Signs of the nearest major key to the pupil's C that has a note. */
static int signs_of(const struct hbk_plan *plan, int written)
{
    int signs = 0;
    while (!hbk_pupil_is_of_key(&plan->pupil, written, signs) &&
           !hbk_pupil_is_of_key(&plan->pupil, written, -signs)) {
        signs++;
    }
    return signs;
}

static bool is_first(const struct hbk_plan *plan, int written)
{
    for (size_t i = 0; i < plan->first.n; i++) {
        if (plan->first.notes[i] == written) {
            return true;
        }
    }
    return false;
}

static enum hbk_plan_part part_of(const struct hbk_plan *plan, int written)
{
    const int above = written - plan->pupil.home;
    if (is_first(plan, written)) {
        return HBK_PLAN_FIRST;
    }
    if (hbk_pupil_needs_care(hbk_pupil_fingering(&plan->pupil, written))) {
        return HBK_PLAN_CARE;
    }
    int part = HBK_PLAN_OCTAVE;
    while (part < HBK_PLAN_BEYOND &&
           (above < parts[part].low || above > parts[part].high ||
            signs_of(plan, written) > parts[part].signs)) {
        part++;
    }
    return (enum hbk_plan_part)part;
}

bool hbk_plan_can_be_taught(const struct hbk_pupil *pupil, int written)
{
    const struct hbk_fingering *const fingering =
        hbk_pupil_fingering(pupil, written);
    return fingering != NULL && fabs(fingering->cents) <= bend_most_cents &&
           !isinf(hbk_pupil_note_price(pupil, written));
}

/* Whether a note must wait for the open one above it to be safe. */
static bool must_wait(const struct hbk_plan *plan, int written)
{
    const int open = hbk_pupil_open_above(&plan->pupil, written);
    return open >= 0 && hbk_plan_can_be_taught(&plan->pupil, open) &&
           (plan->taught[open] == 0 || plan->taught[open] >= plan->number);
}

int hbk_plan_nearest(const struct hbk_plan *plan, int written)
{
    for (int away = 1; away < HBK_PLAN_NOTES; away++) {
        if (written >= away && plan->taught[written - away] > 0) {
            return written - away;
        }
        if (written + away <= HBK_NOTE_MAX &&
            plan->taught[written + away] > 0) {
            return written + away;
        }
    }
    return -1;
}

/* Of open notes alone the third partial comes first, then those about it. */
static double price_of_open(const struct hbk_plan *plan, int written)
{
    return fabs(hbk_pupil_fingering(&plan->pupil, written)->partial - 2.9);
}

/* How far a note lies outside the octave from the pupil's C4, in semitones. */
static int outside(const struct hbk_plan *plan, int written)
{
    const int above = written - plan->pupil.home;
    return above < 0 ? -above : above > OCTAVE ? above - OCTAVE : 0;
}

/* The first of all notes: that of the best two neighbours among the five. */
static double price_of_start(const struct hbk_plan *plan, int written)
{
    const struct hbk_pupil *const pupil = &plan->pupil;
    double best = INFINITY;
    for (size_t i = 0; i < plan->first.n; i++) {
        const int other = plan->first.notes[i];
        if (other == written || abs(other - written) > STEP) {
            continue;
        }
        const struct hbk_ease_move move = hbk_pupil_move(pupil, written, other);
        const bool tonic =
            other == plan->first.notes[0] || written == plan->first.notes[0];
        best = fmin(best, hbk_pupil_note_price(pupil, other) +
                              hbk_ease_move_price(&move) -
                              (tonic ? tonic_bonus : 0.0));
    }
    /* Of the two the easier is played first. */
    return best + 1.01 * hbk_pupil_note_price(pupil, written);
}

static double price_of(const struct hbk_plan *plan, int written)
{
    const struct hbk_pupil *const pupil = &plan->pupil;
    const int nearest = hbk_plan_nearest(plan, written);
    if (plan->first.is_open) {
        return price_of_open(plan, written);
    }
    if (nearest < 0) {
        return price_of_start(plan, written);
    }
    const struct hbk_ease_move move = hbk_pupil_move(pupil, nearest, written);
    const int away = abs(nearest - written);
    return hbk_pupil_note_price(pupil, written) + hbk_ease_move_price(&move) +
           outside_price * outside(plan, written) +
           sign_price * signs_of(plan, written) +
           (away > STEP ? far_price * (away - STEP) : 0.0);
}

/*
 * Whether a note must wait for its namesake in the octave from the pupil's C4,
 * which lies easier.
 */
static bool waits_for_octave(const struct hbk_plan *plan, int written)
{
    const int home = plan->pupil.home;
    int middle = written;
    while (middle < home) {
        middle += OCTAVE;
    }
    while (middle > home + OCTAVE) {
        middle -= OCTAVE;
    }
    return middle != written && plan->taught[middle] == 0 &&
           hbk_plan_can_be_taught(&plan->pupil, middle) &&
           part_of(plan, middle) <= plan->part;
}

static bool is_next(const struct hbk_plan *plan, int written)
{
    return plan->taught[written] == 0 &&
           hbk_plan_can_be_taught(&plan->pupil, written) &&
           part_of(plan, written) <= plan->part && !must_wait(plan, written) &&
           !waits_for_octave(plan, written);
}

int hbk_plan_next(const struct hbk_plan *plan)
{
    int best = -1;
    double least = INFINITY;
    for (int w = plan->pupil.low; w <= plan->pupil.high; w++) {
        if (!is_next(plan, w)) {
            continue;
        }
        const double price = price_of(plan, w);
        if (best < 0 || price < least) {
            best = w;
            least = price;
        }
    }
    return best;
}

/* Whether one key has both and is no further off than that of either alone. */
static bool share_a_key(const struct hbk_plan *plan, int a, int b)
{
    const int both[] = {a, b};
    const int key = abs(hbk_plan_key(plan, both, 2));
    return key <= abs(hbk_plan_key(plan, &a, 1)) ||
           key <= abs(hbk_plan_key(plan, &b, 1));
}

/* Whether nothing is taught but one note. */
static bool is_alone(const struct hbk_plan *plan, int added)
{
    for (int w = 0; w < HBK_PLAN_NOTES; w++) {
        if (w != added && plan->taught[w] > 0) {
            return false;
        }
    }
    return true;
}

int hbk_plan_second(const struct hbk_plan *plan, int added)
{
    enum { FINGERS = 2, APART = 4 };
    const struct hbk_pupil *const pupil = &plan->pupil;
    const struct hbk_fingering *const first = hbk_pupil_fingering(pupil, added);
    /* Once there are five notes, the range grows by one note a lesson. */
    const int second = plan->part == HBK_PLAN_FIRST ? hbk_plan_next(plan) : -1;
    if (second < 0) {
        return -1;
    }
    /* One note alone makes no music. */
    const bool alone = is_alone(plan, added);
    if (alone && plan->first.is_open) {
        return second;
    }
    const struct hbk_fingering *const other =
        hbk_pupil_fingering(pupil, second);
    const bool easy =
        !hbk_move_is_hard(pupil, added, second) &&
        hbk_pupil_fingers(first) + hbk_pupil_fingers(other) <= FINGERS &&
        !hbk_pupil_needs_care(first) && !hbk_pupil_needs_care(other);
    const bool beside = abs(hbk_plan_nearest(plan, second) - second) <= STEP &&
                        abs(second - added) <= APART;
    return beside && (easy || alone) && share_a_key(plan, added, second)
               ? second
               : -1;
}

/* Whether the note that tells a key of one sharp or flat from C is known. */
static bool is_key_known(const struct hbk_plan *plan, int fifths)
{
    enum { B_FLAT = 10, F_SHARP = 6 };
    const int told = plan->pupil.home + (fifths < 0 ? B_FLAT : F_SHARP);
    bool known = fifths == 0;
    for (int w = told % OCTAVE; !known && w < HBK_PLAN_NOTES; w += OCTAVE) {
        known = plan->taught[w] > 0;
    }
    return known;
}

static bool has_all(const struct hbk_plan *plan, int key, const int notes[],
                    size_t n)
{
    bool all = true;
    for (size_t i = 0; i < n; i++) {
        all = all && hbk_pupil_is_of_key(&plan->pupil, notes[i], key);
    }
    return all;
}

/* Whether a close on do can be made near a note. */
static bool closes_near(const struct hbk_plan *plan, int key, int written)
{
    enum { FOURTH = 5 };
    const int tonic = plan->pupil.home + FIFTH * key;
    for (int w = written - FOURTH; w <= written + FOURTH; w++) {
        if ((w - tonic) % OCTAVE == 0 && w >= 0 && w < HBK_PLAN_NOTES &&
            plan->taught[w] > 0) {
            return true;
        }
    }
    return false;
}

int hbk_plan_key(const struct hbk_plan *plan, const int notes[], size_t n)
{
    static const int keys[] = {0, -1, 1, -2, 2, -3, 3, -4, 4, -5, 5, 6};
    enum { N_KEYS = sizeof(keys) / sizeof(keys[0]), EARLY = 3 };
    int near[EARLY];
    size_t n_near = 0;
    if (plan->part == HBK_PLAN_FIRST &&
        has_all(plan, plan->first.key, notes, n) &&
        (abs(plan->first.key) > 1 || is_key_known(plan, plan->first.key))) {
        return plan->first.key;
    }
    for (size_t k = 0; k < EARLY; k++) {
        if (has_all(plan, keys[k], notes, n) && is_key_known(plan, keys[k]) &&
            closes_near(plan, keys[k], notes[0])) {
            near[n_near++] = keys[k];
        }
    }
    if (n_near > 0) {
        return near[plan->number % n_near];
    }
    for (size_t k = 0; k < N_KEYS; k++) {
        if (has_all(plan, keys[k], notes, n)) {
            return keys[k];
        }
    }
    return HBK_PLAN_NO_KEY;
}
