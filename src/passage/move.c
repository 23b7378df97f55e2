#include "passage/move.h"

#include "horn/horn.h"
#include "passage/move_times.h"

#include <math.h>
#include <string.h>

/* What takes eight times too long is as impossible as what takes longer. */
static const double most_pressed = 8.0;

static double slow_action(enum hbk_action action)
{
    switch (action) {
    case HBK_ACTION_WIDE_PISTON:
        return HBK_MOVE_WIDE_PISTON;
    case HBK_ACTION_EARLY_PISTON:
        return HBK_MOVE_EARLY_PISTON;
    case HBK_ACTION_DOUBLE_PISTON:
        return HBK_MOVE_DOUBLE_PISTON;
    case HBK_ACTION_ROTARY:
        return HBK_MOVE_ROTARY;
    case HBK_ACTION_STRING_ROTARY:
        return HBK_MOVE_STRING_ROTARY;
    case HBK_ACTION_UNKNOWN:
    case HBK_ACTION_PISTON:
        break;
    }
    return 1.0;
}

static double slow_control(const struct hbk_control *control, double pad_m)
{
    if (control->kind == HBK_TRIGGER) {
        return HBK_MOVE_TRIGGER;
    }
    if (control->kind == HBK_KEY) {
        return isnan(pad_m) ? 1.0
                            : 1.0 + (fmax(pad_m - HBK_MOVE_SMALL_PAD_M, 0.0) /
                                     HBK_MOVE_PAD_SCALE_M);
    }
    const double stroke = control->stroke_m / HBK_MOVE_USUAL_STROKE_M;
    /* A quarter turn is quick whatever way its lever goes. */
    const bool turns = control->action == HBK_ACTION_ROTARY ||
                       control->action == HBK_ACTION_STRING_ROTARY;
    if (turns || !(stroke > 0.0)) {
        return slow_action(control->action);
    }
    return fmin(fmax(stroke, HBK_MOVE_LEAST_STROKE), HBK_MOVE_MOST_STROKE);
}

static bool works(const struct hbk_site *site, size_t control)
{
    for (size_t t = 0; t < site->n_terms; t++) {
        if ((site->terms[t] >> control & 1U) != 0) {
            return true;
        }
    }
    return false;
}

/* The widest pad and the highest hole that a control works. */
static void look_at_holes(const struct hbk_horn *horn, size_t control,
                          struct hbk_keywork *keywork)
{
    keywork->pad_m[control] = NAN;
    keywork->height[control] = NAN;
    for (size_t i = 0; i < horn->n_sites; i++) {
        const struct hbk_site *const site = &horn->sites[i];
        if (site->kind != HBK_HOLE || !works(site, control)) {
            continue;
        }
        const struct hbk_hole *const hole = &site->hole;
        /* fmax takes the number where one of the two is none. */
        keywork->pad_m[control] =
            fmax(keywork->pad_m[control], hole->diameter_m);
        if (!site->at_rest) {
            const double height =
                isnan(hole->from_bell_m) ? hole->raises : hole->from_bell_m;
            keywork->height[control] = fmax(keywork->height[control], height);
        }
    }
}

void hbk_keywork_make(const struct hbk_horn *horn,
                      const struct hbk_finger_prices *prices,
                      struct hbk_keywork *keywork)
{
    *keywork = (struct hbk_keywork){.horn = horn, .prices = *prices};
    for (size_t i = 0; i < horn->n_controls; i++) {
        look_at_holes(horn, i, keywork);
        keywork->slow[i] = slow_control(&horn->controls[i], keywork->pad_m[i]);
    }
}

static void set_grip(const struct hbk_keywork *keywork, uint32_t press,
                     const struct hbk_assignment *assignment,
                     struct hbk_grip *grip)
{
    grip->press = press;
    memset(grip->finger_of, -1, sizeof(grip->finger_of));
    memset(grip->control_of, -1, sizeof(grip->control_of));
    for (size_t i = 0; i < keywork->horn->n_controls; i++) {
        if ((press >> i & 1U) != 0) {
            const enum hbk_finger finger = assignment->finger_of[i];
            grip->finger_of[i] = (signed char)finger;
            grip->control_of[finger] = (signed char)i;
        }
    }
}

bool hbk_grips_make(const struct hbk_keywork *keywork, uint32_t press,
                    struct hbk_grips *grips)
{
    struct hbk_assignment ways[HBK_GRIPS_MAX];
    grips->n = hbk_hands_assign_all(keywork->horn, press, &keywork->prices,
                                    HBK_GRIPS_MAX, ways);
    for (size_t i = 0; i < grips->n; i++) {
        set_grip(keywork, press, &ways[i], &grips->of[i]);
    }
    return grips->n > 0;
}

static double slow_finger(int finger)
{
    static const double slow[] = {HBK_MOVE_THUMB, 1.0, HBK_MOVE_MIDDLE,
                                  HBK_MOVE_RING, HBK_MOVE_LITTLE};
    return slow[hbk_finger_digit((enum hbk_finger)finger)];
}

static double stroke_s(const struct hbk_keywork *keywork, int finger,
                       int control, double key_s)
{
    return key_s +
           (HBK_MOVE_FINGER_S * slow_finger(finger) * keywork->slow[control]);
}

/* Whether all that go down are of one hand and all that come up of the other */
static bool is_between_hands(unsigned down, unsigned up)
{
    const unsigned left = (1U << (HBK_L_LITTLE + 1)) - 1U;
    return ((down & left) == down && (up & left) == 0) ||
           ((down & left) == 0 && (up & left) == up);
}

/* Whether the right thumb goes one way and a finger of its hand the other. */
static bool is_unsteady(unsigned down, unsigned up)
{
    const unsigned thumb = 1U << HBK_R_THUMB;
    const unsigned left = (1U << (HBK_L_LITTLE + 1)) - 1U;
    return ((down & thumb) != 0 && (up & ~left) != 0) ||
           ((up & thumb) != 0 && (down & ~left) != 0);
}

static unsigned reasons_of_stroke(const struct hbk_keywork *keywork, int finger,
                                  int control)
{
    const bool is_weak = hbk_finger_digit((enum hbk_finger)finger) >= 3;
    const bool is_key = keywork->horn->controls[control].kind == HBK_KEY;
    unsigned reasons = is_weak ? HBK_MOVE_WEAK : 0;
    if (is_key && keywork->pad_m[control] >= HBK_MOVE_LARGE_PAD_M) {
        reasons |= HBK_MOVE_LARGE_PAD;
    }
    if (!is_key && keywork->slow[control] > HBK_MOVE_WIDE_PISTON) {
        reasons |= HBK_MOVE_LONG_STROKE;
    }
    return reasons;
}

/* One finger goes from a control (-1 none) to another; the time it takes. */
static double move_finger(const struct hbk_keywork *keywork, int finger,
                          int from, int to, struct hbk_move *move)
{
    const unsigned bit = 1U << finger;
    double least_s = 0.0;
    if (from >= 0) {
        move->fingers_up |= bit;
        move->reasons |= reasons_of_stroke(keywork, finger, from);
        least_s = stroke_s(keywork, finger, from, HBK_MOVE_UP_S);
    }
    if (to >= 0) {
        const double down_s = stroke_s(keywork, finger, to, HBK_MOVE_DOWN_S);
        move->fingers_down |= bit;
        move->reasons |= reasons_of_stroke(keywork, finger, to);
        least_s = from < 0 ? down_s : HBK_MOVE_SAME_FINGER * (least_s + down_s);
    }
    if (from >= 0 && to >= 0) {
        move->fingers_jump |= bit;
        move->reasons |= HBK_MOVE_JUMPS;
    }
    const bool swaps = (from >= 0 && (move->held >> from & 1U) != 0) ||
                       (to >= 0 && (move->held >> to & 1U) != 0);
    move->reasons |= swaps ? HBK_MOVE_SWAPS : 0;
    return least_s;
}

/* A key is held open while one above it opens or shuts. */
static bool stays_open(const struct hbk_keywork *keywork,
                       const struct hbk_move *move)
{
    for (size_t i = 0; i < keywork->horn->n_controls; i++) {
        for (size_t k = 0; k < keywork->horn->n_controls; k++) {
            if ((move->held >> i & 1U) != 0 &&
                ((move->down | move->up) >> k & 1U) != 0 &&
                keywork->height[i] < keywork->height[k]) {
                return true;
            }
        }
    }
    return false;
}

double hbk_move_crossing_s(const struct hbk_move *move)
{
    if ((move->reasons & HBK_MOVE_CROSSED) == 0) {
        return 0.0;
    }
    return (move->reasons & HBK_MOVE_HANDS) != 0
               ? HBK_MOVE_CROSSED_S / HBK_MOVE_SAME_FINGER
               : HBK_MOVE_CROSSED_S;
}

/* What the fingers have to do with each other; returns the time it adds. */
static double judge(const struct hbk_keywork *keywork, struct hbk_move *move)
{
    const unsigned thumbs = 1U << HBK_L_THUMB | 1U << HBK_R_THUMB;
    const unsigned down = move->fingers_down & ~move->fingers_jump;
    const unsigned up = move->fingers_up & ~move->fingers_jump;
    const int n = __builtin_popcount(move->fingers_down | move->fingers_up);
    double adds_s = 0.0;
    if (down != 0 && up != 0) {
        const bool hands = is_between_hands(down, up);
        move->reasons |= HBK_MOVE_CROSSED | (hands ? HBK_MOVE_HANDS : 0) |
                         (is_unsteady(down, up) ? HBK_MOVE_UNSTEADY : 0);
        adds_s += hbk_move_crossing_s(move);
    }
    if ((down & thumbs) != 0 && (up & thumbs) != 0) {
        move->reasons |= HBK_MOVE_THUMBS;
        adds_s += HBK_MOVE_THUMBS_S;
    }
    if (n > 1) {
        move->reasons |= HBK_MOVE_MANY;
        adds_s += HBK_MOVE_SPREAD_S * (n - 1);
    }
    if (stays_open(keywork, move)) {
        move->reasons |= HBK_MOVE_STAYS;
    }
    return adds_s;
}

struct hbk_move hbk_move_between(const struct hbk_keywork *keywork,
                                 const struct hbk_grip *from,
                                 const struct hbk_grip *to)
{
    struct hbk_move move = {
        .down = to->press & ~from->press,
        .up = from->press & ~to->press,
        .held = from->press & to->press,
    };
    for (int f = 0; f < HBK_FINGER_COUNT; f++) {
        const int a = from->control_of[f];
        const int b = to->control_of[f];
        if (a != b) {
            move.least_s =
                fmax(move.least_s, move_finger(keywork, f, a, b, &move));
        }
    }
    if ((move.fingers_down | move.fingers_up) != 0) {
        move.least_s += judge(keywork, &move);
    }
    return move;
}

struct hbk_passing hbk_move_choose(const struct hbk_keywork *keywork,
                                   const struct hbk_grips *from,
                                   const struct hbk_grips *to)
{
    struct hbk_passing best = {
        &from->of[0], &to->of[0],
        hbk_move_between(keywork, &from->of[0], &to->of[0])};
    if (from->n == 1 && to->n == 1) {
        return best;
    }
    double best_s = (double)INFINITY;
    for (size_t i = 0; i < from->n; i++) {
        for (size_t k = 0; k < to->n; k++) {
            const struct hbk_grip *const a = &from->of[i];
            const struct hbk_grip *const b = &to->of[k];
            const struct hbk_move there = hbk_move_between(keywork, a, b);
            const double both_s =
                there.least_s + hbk_move_between(keywork, b, a).least_s;
            if (both_s < best_s) {
                best_s = both_s;
                best = (struct hbk_passing){a, b, there};
            }
        }
    }
    return best;
}

double hbk_pressed_price(double least_s, double available_s)
{
    if (!(least_s > 0.0)) {
        return 0.0;
    }
    const double ratio = available_s > 0.0
                             ? fmin(least_s / available_s, most_pressed)
                             : most_pressed;
    const double square = ratio * ratio;
    return HBK_PRICE_PRESSED * square * fmax(square, 1.0);
}
