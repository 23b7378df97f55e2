#include "passage/trill.h"

#include "base/arena.h"
#include "horn/about.h"
#include "passage/lip.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The fingerings of a note and then its idle ones, by one index. */
static const struct hbk_fingering *way(const struct hbk_note *note, size_t i)
{
    return i < note->n ? &note->fingerings[i] : &note->idle[i - note->n];
}

double hbk_trill_heard(const struct hbk_fingering *fingering)
{
    return fingering->cost - fingering->untaught -
           ((1.0 - HBK_TRILL_HEARD) * fingering->cents * fingering->cents);
}

/* The fingers of that finger's hand, itself not among them. */
static unsigned rest_of_hand(int finger)
{
    const unsigned left = (1U << (HBK_L_LITTLE + 1)) - 1U;
    const unsigned both = (1U << HBK_FINGER_COUNT) - 1U;
    const unsigned hand = (left >> finger & 1U) != 0 ? left : both & ~left;
    return hand & ~(1U << finger);
}

/*
 * The control whose finger ties the one that trills, or -1: ring and little
 * finger are not free while another of their hand holds, nor is the thumb
 * while ring or little finger do.
 */
static int tied_by(const struct hbk_passing *passing, int finger)
{
    const int digit = hbk_finger_digit((enum hbk_finger)finger);
    const unsigned rest = rest_of_hand(finger);
    if (digit == 1 || digit == 2) {
        return -1;
    }
    for (int f = HBK_FINGER_COUNT; f-- > 0;) {
        const int control = passing->from->control_of[f];
        const bool holds = (rest >> f & 1U) != 0 && control >= 0 &&
                           control == passing->to->control_of[f];
        if (holds && (digit > 0 || hbk_finger_digit((enum hbk_finger)f) >= 3)) {
            return control;
        }
    }
    return -1;
}

/* The only finger that moves, on one control and no other; or -1. */
static int trilling(const struct hbk_move *move)
{
    const unsigned fingers = move->fingers_down | move->fingers_up;
    return __builtin_popcount(fingers) == 1 && move->fingers_jump == 0
               ? __builtin_ctz(fingers)
               : -1;
}

static enum hbk_trill_kind kind_of(const struct hbk_trill *trill,
                                   const struct hbk_passing *passing)
{
    if (trill->main->press == trill->upper->press) {
        return HBK_TRILL_LIP;
    }
    const int finger = trilling(&passing->move);
    return finger >= 0 && trill->main->partial == trill->upper->partial &&
                   trill->least_s <= HBK_TRILL_SLOW_S &&
                   tied_by(passing, finger) < 0
               ? HBK_TRILL_EASY
               : HBK_TRILL_AWKWARD;
}

/* The trill between two presses. */
static void weigh(const struct hbk_keywork *keywork,
                  const struct hbk_grips *lower, const struct hbk_grips *upper,
                  struct hbk_trill *trill)
{
    const struct hbk_passing passing = hbk_move_choose(keywork, lower, upper);
    const struct hbk_move there = passing.move;
    const struct hbk_move back =
        hbk_move_between(keywork, passing.to, passing.from);
    const double lip_s =
        hbk_lip_trill_s(trill->main->partial, trill->upper->partial);
    trill->reasons = there.reasons | back.reasons;
    trill->least_s = fmax(fmax(there.least_s, back.least_s), lip_s);
    trill->price = hbk_trill_heard(trill->main) +
                   hbk_trill_heard(trill->upper) +
                   hbk_pressed_price(there.least_s, HBK_TRILL_S) +
                   hbk_pressed_price(back.least_s, HBK_TRILL_S) +
                   (2.0 * hbk_pressed_price(lip_s, HBK_TRILL_S));
    trill->kind = kind_of(trill, &passing);
}

struct hbk_trill hbk_trill_between(const struct hbk_keywork *keywork,
                                   int written, int interval,
                                   const struct hbk_fingering *main,
                                   const struct hbk_fingering *upper)
{
    struct hbk_trill trill = {.written = written,
                              .interval = interval,
                              .least_s = INFINITY,
                              .price = INFINITY};
    struct hbk_grips below;
    struct hbk_grips above;
    if (hbk_grips_make(keywork, main->press, &below) &&
        hbk_grips_make(keywork, upper->press, &above)) {
        trill.main = main;
        trill.upper = upper;
        weigh(keywork, &below, &above, &trill);
    }
    return trill;
}

struct hbk_trill hbk_trill_find(const struct hbk_keywork *keywork,
                                const struct hbk_notes *notes, int written,
                                int interval, const struct hbk_fingering *main)
{
    struct hbk_trill best = {.written = written,
                             .interval = interval,
                             .least_s = INFINITY,
                             .price = INFINITY};
    const struct hbk_note *const low = hbk_notes_find(notes, written);
    const struct hbk_note *const high =
        hbk_notes_find(notes, written + interval);
    if (low == NULL || high == NULL) {
        return best;
    }
    const size_t n_low = main != NULL ? 1 : low->n + low->n_idle;
    for (size_t i = 0; i < n_low; i++) {
        struct hbk_trill trill = best;
        struct hbk_grips lower;
        trill.main = main != NULL ? main : way(low, i);
        if (!hbk_grips_make(keywork, trill.main->press, &lower)) {
            continue;
        }
        for (size_t k = 0; k < high->n + high->n_idle; k++) {
            struct hbk_grips upper;
            trill.upper = way(high, k);
            const bool is_itself = trill.main->press == trill.upper->press &&
                                   trill.main->partial == trill.upper->partial;
            if (is_itself ||
                !hbk_grips_make(keywork, trill.upper->press, &upper)) {
                continue;
            }
            weigh(keywork, &lower, &upper, &trill);
            if (trill.price < best.price) {
                best = trill;
            }
        }
    }
    return best;
}

/* "right ring finger on key 2; key 1 is held" */
static void trilling_words(const struct hbk_keywork *keywork,
                           const struct hbk_passing *passing,
                           char words[HBK_MOVE_WORDS_SIZE])
{
    const int finger = trilling(&passing->move);
    const unsigned reasons = passing->move.reasons;
    const struct hbk_horn *const horn = keywork->horn;
    const size_t control =
        (size_t)__builtin_ctz(passing->move.down | passing->move.up);
    /* A strong finger minds a large pad no more than the time it takes. */
    const bool is_slow = (reasons & HBK_MOVE_WEAK) != 0 ||
                         passing->move.least_s > HBK_TRILL_SLOW_S;
    char name[HBK_MOVE_WORDS_SIZE / 4];
    (void)snprintf(
        words, HBK_MOVE_WORDS_SIZE, "%s on %s%s",
        hbk_finger_words((enum hbk_finger)finger),
        hbk_control_words(hbk_horn_control(horn, control), name, sizeof(name)),
        !is_slow                                ? ""
        : (reasons & HBK_MOVE_LARGE_PAD) != 0   ? ", a large pad"
        : (reasons & HBK_MOVE_LONG_STROKE) != 0 ? ", which is slow"
                                                : "");
    const int tied = tied_by(passing, finger);
    const size_t length = strlen(words);
    if (tied >= 0) {
        (void)snprintf(words + length, HBK_MOVE_WORDS_SIZE - length,
                       "; %s is held",
                       hbk_control_words(hbk_horn_control(horn, (size_t)tied),
                                         name, sizeof(name)));
    }
}

char *hbk_trill_words(const struct hbk_keywork *keywork,
                      const struct hbk_trill *trill,
                      char words[HBK_MOVE_WORDS_SIZE])
{
    words[0] = '\0';
    if (trill->kind == HBK_TRILL_NONE) {
        return words;
    }
    if (trill->kind == HBK_TRILL_LIP) {
        (void)snprintf(words, HBK_MOVE_WORDS_SIZE,
                       "the lip alone, partial %u to %u", trill->main->partial,
                       trill->upper->partial);
        return words;
    }
    struct hbk_grips lower;
    struct hbk_grips upper;
    if (!hbk_grips_make(keywork, trill->main->press, &lower) ||
        !hbk_grips_make(keywork, trill->upper->press, &upper)) {
        return words;
    }
    const struct hbk_passing passing = hbk_move_choose(keywork, &lower, &upper);
    if (trilling(&passing.move) >= 0) {
        trilling_words(keywork, &passing, words);
    } else {
        hbk_move_words(keywork, passing.from, passing.to,
                       ~(unsigned)HBK_MOVE_STAYS, words);
    }
    const size_t length = strlen(words);
    if (trill->main->partial != trill->upper->partial) {
        (void)snprintf(words + length, HBK_MOVE_WORDS_SIZE - length,
                       "; partial %u to %u", trill->main->partial,
                       trill->upper->partial);
    }
    return words;
}

static struct hbk_trill told(const struct hbk_keywork *keywork,
                             struct hbk_trill trill, struct hbk_arena *arena)
{
    char words[HBK_MOVE_WORDS_SIZE];
    hbk_trill_words(keywork, &trill, words);
    trill.words = hbk_arena_copy(arena, words, strlen(words));
    return trill;
}

const struct hbk_trills *hbk_trills_of(const struct hbk_notes *notes,
                                       struct hbk_arena *arena)
{
    struct hbk_keywork keywork;
    hbk_keywork_make(notes->horn, &notes->fingers, &keywork);
    struct hbk_trill *const half =
        HBK_ARENA_ARRAY(arena, struct hbk_trill, notes->n);
    struct hbk_trill *const whole =
        HBK_ARENA_ARRAY(arena, struct hbk_trill, notes->n);
    for (size_t i = 0; i < notes->n; i++) {
        const int written = notes->lowest + (int)i;
        half[i] = told(
            &keywork, hbk_trill_find(&keywork, notes, written, 1, NULL), arena);
        whole[i] = told(
            &keywork, hbk_trill_find(&keywork, notes, written, 2, NULL), arena);
    }
    struct hbk_trills *const trills =
        HBK_ARENA_ARRAY(arena, struct hbk_trills, 1);
    *trills = (struct hbk_trills){.n = notes->n, .half = half, .whole = whole};
    return trills;
}
