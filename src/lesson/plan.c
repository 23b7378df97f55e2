#include "lesson/plan.h"

#include "horn/about.h"

#include <math.h>
#include <stdlib.h>

enum { OCTAVE = 12, STEP = 2, FIFTH = 7 };

/* Each semitone over a tone from what is known, in squared cents; ours. */
static const double far_price = 2000.0;
/* For the pair that do re or mi fa begin with; likewise. */
static const double tonic_bonus = 100.0;
/* Notes with a harder move between them have a lesson each; likewise. */
static const double hard_move = 500.0;
/* More than this no beginner bends a note, cents; likewise. */
static const double bend_most_cents = 45.0;

/* Parts by semitones above the pupil's C4, from G3 to G5. */
static const enum hbk_plan_part parts[HBK_LESSON_BELOW + HBK_LESSON_ABOVE + 1] =
    {HBK_PLAN_RANGE, /* G3 */
     HBK_PLAN_CHROMATIC, HBK_PLAN_RANGE,     HBK_PLAN_CHROMATIC,
     HBK_PLAN_ROUND,  /* B3 */
     HBK_PLAN_OCTAVE, /* C4 */
     HBK_PLAN_MORE_KEYS, HBK_PLAN_OCTAVE,    HBK_PLAN_MORE_KEYS,
     HBK_PLAN_OCTAVE, /* E4 */
     HBK_PLAN_OCTAVE,    HBK_PLAN_KEYS,      HBK_PLAN_OCTAVE,
     HBK_PLAN_CHROMATIC, /* A flat 4 */
     HBK_PLAN_OCTAVE,    HBK_PLAN_KEYS,      HBK_PLAN_OCTAVE,
     HBK_PLAN_OCTAVE, /* C5 */
     HBK_PLAN_MORE_KEYS, HBK_PLAN_ROUND,     HBK_PLAN_MORE_KEYS,
     HBK_PLAN_ROUND, /* E5 */
     HBK_PLAN_RANGE,     HBK_PLAN_CHROMATIC, HBK_PLAN_RANGE};

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
    return above < -HBK_LESSON_BELOW || above > HBK_LESSON_ABOVE
               ? HBK_PLAN_BEYOND
               : parts[above + HBK_LESSON_BELOW];
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
    if (nearest < 0) {
        return price_of_start(plan, written);
    }
    const struct hbk_ease_move move = hbk_pupil_move(pupil, nearest, written);
    const int away = abs(nearest - written);
    return hbk_pupil_note_price(pupil, written) + hbk_ease_move_price(&move) +
           (away > STEP ? far_price * (away - STEP) : 0.0);
}

static bool is_next(const struct hbk_plan *plan, int written)
{
    return plan->taught[written] == 0 &&
           hbk_plan_can_be_taught(&plan->pupil, written) &&
           part_of(plan, written) <= plan->part && !must_wait(plan, written);
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

int hbk_plan_second(const struct hbk_plan *plan, int added)
{
    enum { FINGERS = 2, APART = 4 };
    const struct hbk_pupil *const pupil = &plan->pupil;
    const struct hbk_fingering *const first = hbk_pupil_fingering(pupil, added);
    const int second = hbk_plan_next(plan);
    if (second < 0) {
        return -1;
    }
    const struct hbk_fingering *const other =
        hbk_pupil_fingering(pupil, second);
    const struct hbk_ease_move move = hbk_pupil_move(pupil, added, second);
    const bool easy =
        hbk_ease_move_price(&move) <= hard_move &&
        hbk_pupil_fingers(first) + hbk_pupil_fingers(other) <= FINGERS &&
        !hbk_pupil_needs_care(first) && !hbk_pupil_needs_care(other);
    const bool beside = abs(hbk_plan_nearest(plan, second) - second) <= STEP &&
                        abs(second - added) <= APART;
    /* Of the very first two notes neither has anything beside it. */
    bool alone = true;
    for (int w = 0; w < HBK_PLAN_NOTES; w++) {
        alone = alone && (w == added || plan->taught[w] == 0);
    }
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
