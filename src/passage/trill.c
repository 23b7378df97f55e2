#include "passage/trill.h"

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
    return fingering->cost -
           ((1.0 - HBK_TRILL_HEARD) * fingering->cents * fingering->cents);
}

static enum hbk_trill_kind kind_of(const struct hbk_trill *trill,
                                   const struct hbk_move *move)
{
    if (trill->main->press == trill->upper->press) {
        return HBK_TRILL_LIP;
    }
    const unsigned fingers = move->fingers_down | move->fingers_up;
    const bool one = __builtin_popcount(fingers) == 1 &&
                     (move->reasons & HBK_MOVE_JUMPS) == 0;
    return one && trill->main->partial == trill->upper->partial
               ? HBK_TRILL_EASY
               : HBK_TRILL_AWKWARD;
}

/* The shake between two grips. */
static void weigh(const struct hbk_keywork *keywork,
                  const struct hbk_grip *lower, const struct hbk_grip *upper,
                  struct hbk_trill *trill)
{
    const struct hbk_move there = hbk_move_between(keywork, lower, upper);
    const struct hbk_move back = hbk_move_between(keywork, upper, lower);
    const double lip_s =
        hbk_lip_least_s(trill->main->partial, trill->upper->partial, true);
    trill->reasons = there.reasons | back.reasons;
    trill->least_s = fmax(fmax(there.least_s, back.least_s), lip_s);
    trill->price = hbk_trill_heard(trill->main) +
                   hbk_trill_heard(trill->upper) +
                   hbk_pressed_price(there.least_s, HBK_TRILL_S) +
                   hbk_pressed_price(back.least_s, HBK_TRILL_S) +
                   (2.0 * hbk_pressed_price(lip_s, HBK_TRILL_S));
    trill->kind = kind_of(trill, &there);
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
        struct hbk_grip lower;
        trill.main = main != NULL ? main : way(low, i);
        if (!hbk_grip_make(keywork, trill.main->press, &lower)) {
            continue;
        }
        for (size_t k = 0; k < high->n + high->n_idle; k++) {
            struct hbk_grip upper;
            trill.upper = way(high, k);
            const bool is_itself = trill.main->press == trill.upper->press &&
                                   trill.main->partial == trill.upper->partial;
            if (is_itself ||
                !hbk_grip_make(keywork, trill.upper->press, &upper)) {
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

struct hbk_trills hbk_trills_of(const struct hbk_keywork *keywork,
                                const struct hbk_notes *notes,
                                struct hbk_arena *arena)
{
    struct hbk_trill *const half =
        HBK_ARENA_ARRAY(arena, struct hbk_trill, notes->n);
    struct hbk_trill *const whole =
        HBK_ARENA_ARRAY(arena, struct hbk_trill, notes->n);
    for (size_t i = 0; i < notes->n; i++) {
        const int written = notes->lowest + (int)i;
        half[i] = hbk_trill_find(keywork, notes, written, 1, NULL);
        whole[i] = hbk_trill_find(keywork, notes, written, 2, NULL);
    }
    return (struct hbk_trills){.n = notes->n, .half = half, .whole = whole};
}

const char *hbk_trill_kind_name(enum hbk_trill_kind kind)
{
    switch (kind) {
    case HBK_TRILL_NONE:
        return "none";
    case HBK_TRILL_EASY:
        return "easy";
    case HBK_TRILL_AWKWARD:
        return "awkward";
    case HBK_TRILL_LIP:
        return "by lip";
    }
    return "";
}

/* The finger that does an easy trill. */
static void easy_words(const struct hbk_keywork *keywork,
                       const struct hbk_grip *lower,
                       const struct hbk_grip *upper,
                       char words[HBK_MOVE_WORDS_SIZE])
{
    for (int f = 0; f < HBK_FINGER_COUNT; f++) {
        const int a = lower->control_of[f];
        const int b = upper->control_of[f];
        if (a != b) {
            char control[HBK_MOVE_WORDS_SIZE / 2];
            hbk_control_words(&keywork->horn->controls[a >= 0 ? a : b], control,
                              sizeof(control));
            (void)snprintf(words, HBK_MOVE_WORDS_SIZE, "%s on %s",
                           hbk_finger_words((enum hbk_finger)f), control);
        }
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
    struct hbk_grip lower;
    struct hbk_grip upper;
    if (!hbk_grip_make(keywork, trill->main->press, &lower) ||
        !hbk_grip_make(keywork, trill->upper->press, &upper)) {
        return words;
    }
    if (trill->kind == HBK_TRILL_EASY) {
        easy_words(keywork, &lower, &upper, words);
        return words;
    }
    hbk_move_words(keywork, &lower, &upper, ~0U, words);
    const size_t length = strlen(words);
    if (trill->main->partial != trill->upper->partial) {
        (void)snprintf(words + length, HBK_MOVE_WORDS_SIZE - length,
                       "; partial %u to %u", trill->main->partial,
                       trill->upper->partial);
    }
    return words;
}
