#include "passage/move_words.h"

#include "horn/about.h"
#include "passage/move_times.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* As many clauses as one still reads with the horn in hand. */
enum { CLAUSES_MAX = 3, CONTROL_SIZE = 80 };

/* A sentence that is being put together. */
struct words {
    const struct hbk_keywork *keywork;
    const struct hbk_grip *from, *to;
    struct hbk_move move;
    char *text;
    size_t length;
    size_t n; /* clauses so far */
};

__attribute__((format(printf, 2, 3))) static void say(struct words *w,
                                                      const char *fmt, ...)
{
    char clause[HBK_MOVE_WORDS_SIZE];
    va_list args;
    va_start(args, fmt);
    (void)vsnprintf(clause, sizeof(clause), fmt, args);
    va_end(args);
    const char *const joint = w->n > 0 ? "; " : "";
    const size_t length = strlen(clause) + strlen(joint);
    /* A clause that finds no room is left out whole. */
    if (w->n == CLAUSES_MAX || w->length + length >= HBK_MOVE_WORDS_SIZE) {
        return;
    }
    (void)snprintf(w->text + w->length, HBK_MOVE_WORDS_SIZE - w->length, "%s%s",
                   joint, clause);
    w->length += length;
    w->n++;
}

static const char *control_words(const struct words *w, int control,
                                 char text[CONTROL_SIZE])
{
    return hbk_control_words(
        hbk_horn_control(w->keywork->horn, (size_t)control), text,
        CONTROL_SIZE);
}

static void say_jumps(struct words *w)
{
    for (int f = 0; f < HBK_FINGER_COUNT; f++) {
        if ((w->move.fingers_jump >> f & 1U) != 0) {
            char a[CONTROL_SIZE];
            char b[CONTROL_SIZE];
            say(w, "the %s jumps from %s to %s",
                hbk_finger_words((enum hbk_finger)f),
                control_words(w, w->from->control_of[f], a),
                control_words(w, w->to->control_of[f], b));
        }
    }
}

static void say_swaps(struct words *w)
{
    for (int i = 0; i < HBK_CONTROLS_MAX; i++) {
        const int a = w->from->finger_of[i];
        const int b = w->to->finger_of[i];
        if (a >= 0 && b >= 0 && a != b) {
            char control[CONTROL_SIZE];
            say(w, "change fingers on %s (%s to %s)",
                control_words(w, i, control),
                hbk_finger_name((enum hbk_finger)a),
                hbk_finger_name((enum hbk_finger)b));
        }
    }
}

/* One finger that comes up and one that goes down, the thumbs if it is they. */
static void say_crossed(struct words *w)
{
    const bool both = (w->move.reasons & HBK_MOVE_THUMBS) != 0;
    const unsigned spoken =
        both ? 1U << HBK_L_THUMB | 1U << HBK_R_THUMB : UINT32_MAX;
    const unsigned still = spoken & ~w->move.fingers_jump;
    const int lifts = __builtin_ctz(w->move.fingers_up & still);
    const int presses = __builtin_ctz(w->move.fingers_down & still);
    char a[CONTROL_SIZE];
    char b[CONTROL_SIZE];
    say(w, "%s%s up as %s goes down (%s, %s)",
        both ? "two thumbs in turn: " : "",
        control_words(w, w->from->control_of[lifts], a),
        control_words(w, w->to->control_of[presses], b),
        hbk_finger_name((enum hbk_finger)lifts),
        hbk_finger_name((enum hbk_finger)presses));
}

static int control_at(const struct words *w, int finger)
{
    return w->to->control_of[finger] >= 0 ? w->to->control_of[finger]
                                          : w->from->control_of[finger];
}

static void say_weak(struct words *w)
{
    const unsigned all =
        (w->move.fingers_down | w->move.fingers_up) & ~w->move.fingers_jump;
    for (int f = 0; f < HBK_FINGER_COUNT; f++) {
        if ((all >> f & 1U) != 0 && hbk_finger_digit((enum hbk_finger)f) >= 3) {
            char control[CONTROL_SIZE];
            say(w, "the %s works %s", hbk_finger_words((enum hbk_finger)f),
                control_words(w, control_at(w, f), control));
            return;
        }
    }
}

static void say_slow(struct words *w, unsigned which)
{
    const uint32_t moved = w->move.down | w->move.up;
    for (int i = 0; i < HBK_CONTROLS_MAX; i++) {
        if ((moved >> i & 1U) == 0) {
            continue;
        }
        char control[CONTROL_SIZE];
        const bool is_key =
            hbk_horn_control(w->keywork->horn, (size_t)i)->kind == HBK_KEY;
        if (is_key && (which & HBK_MOVE_LARGE_PAD) != 0 &&
            w->keywork->pad_m[i] >= HBK_MOVE_LARGE_PAD_M) {
            say(w, "%s has a large pad", control_words(w, i, control));
        }
        if (!is_key && (which & HBK_MOVE_LONG_STROKE) != 0 &&
            w->keywork->slow[i] > HBK_MOVE_WIDE_PISTON) {
            say(w, "%s is slow", control_words(w, i, control));
        }
    }
}

/* The highest of the keys that stay open beneath the one that moves. */
static void say_stays(struct words *w)
{
    const double *const height = w->keywork->height;
    int highest = -1;
    for (int i = 0; i < HBK_CONTROLS_MAX; i++) {
        if ((w->move.held >> i & 1U) != 0 && !isnan(height[i]) &&
            (highest < 0 || height[i] > height[highest])) {
            highest = i;
        }
    }
    if (highest >= 0) {
        char control[CONTROL_SIZE];
        say(w, "%s stays open", control_words(w, highest, control));
    }
}

/* What moves, where there is nothing to complain of. */
static void say_plain(struct words *w)
{
    for (int f = 0; f < HBK_FINGER_COUNT; f++) {
        const bool presses = (w->move.fingers_down >> f & 1U) != 0;
        char control[CONTROL_SIZE];
        if (presses || (w->move.fingers_up >> f & 1U) != 0) {
            say(w, "%s %s (%s)", control_words(w, control_at(w, f), control),
                presses ? "down" : "up", hbk_finger_name((enum hbk_finger)f));
        }
    }
}

char *hbk_move_words(const struct hbk_keywork *keywork,
                     const struct hbk_grip *from, const struct hbk_grip *to,
                     unsigned which, char words[HBK_MOVE_WORDS_SIZE])
{
    struct words w = {.keywork = keywork,
                      .from = from,
                      .to = to,
                      .move = hbk_move_between(keywork, from, to),
                      .text = words};
    words[0] = '\0';
    const unsigned reasons = w.move.reasons & which;
    const bool crossed = (reasons & HBK_MOVE_CROSSED) != 0;
    const int n = __builtin_popcount(w.move.fingers_down | w.move.fingers_up);
    if ((reasons & HBK_MOVE_JUMPS) != 0) {
        say_jumps(&w);
    }
    if ((reasons & HBK_MOVE_SWAPS) != 0) {
        say_swaps(&w);
    }
    if (crossed) {
        say_crossed(&w);
    }
    if ((reasons & HBK_MOVE_MANY) != 0 && n > 2) {
        say(&w, "%d fingers move at once", n);
    }
    if ((reasons & HBK_MOVE_WEAK) != 0 && !crossed) {
        say_weak(&w);
    }
    /* Beside what several fingers do, a pad is not worth the breath. */
    if (n == 1) {
        say_slow(&w, reasons);
    }
    if (w.n > 0) {
        return words;
    }
    say_plain(&w);
    if (n == 1 && (reasons & HBK_MOVE_STAYS) != 0) {
        say_stays(&w);
    }
    return words;
}

char *hbk_passing_words(const struct hbk_keywork *keywork,
                        const struct hbk_grips *from,
                        const struct hbk_grips *to, unsigned which,
                        char words[HBK_MOVE_WORDS_SIZE])
{
    const struct hbk_passing passing = hbk_move_choose(keywork, from, to);
    return hbk_move_words(keywork, passing.from, passing.to, which, words);
}

char *hbk_presses_words(const struct hbk_keywork *keywork, uint32_t from,
                        uint32_t to, unsigned which,
                        char words[HBK_MOVE_WORDS_SIZE])
{
    struct hbk_grips a;
    struct hbk_grips b;
    words[0] = '\0';
    return hbk_grips_make(keywork, from, &a) && hbk_grips_make(keywork, to, &b)
               ? hbk_passing_words(keywork, &a, &b, which, words)
               : words;
}
