#include "passage/ease.h"

#include <math.h>

struct hbk_ease_move hbk_ease_between(const struct hbk_keywork *keywork,
                                      const struct hbk_grips *low,
                                      const struct hbk_grips *high,
                                      double available_s)
{
    const struct hbk_passing passing = hbk_move_choose(keywork, low, high);
    const struct hbk_move up = passing.move;
    const struct hbk_move down =
        hbk_move_between(keywork, passing.to, passing.from);
    return (struct hbk_ease_move){.reasons = up.reasons | down.reasons,
                                  .need_s = fmax(up.least_s, down.least_s),
                                  .available_s = available_s};
}

double hbk_ease_move_price(const struct hbk_ease_move *move)
{
    const unsigned reasons = move->reasons;
    const double time = hbk_pressed_price(move->need_s, move->available_s);
    if ((reasons & HBK_EASE_AWKWARD) == 0) {
        return time;
    }
    const double times =
        ((reasons & HBK_MOVE_HANDS) != 0 ? HBK_EASE_HANDS : 1.0) +
        ((reasons & HBK_MOVE_WEAK) != 0 ? HBK_EASE_WEAK : 0.0) +
        ((reasons & HBK_MOVE_THUMBS) != 0 ? HBK_EASE_THUMBS : 0.0) +
        ((reasons & HBK_MOVE_UNSTEADY) != 0 ? HBK_EASE_UNSTEADY : 0.0) +
        ((reasons & (HBK_MOVE_JUMPS | HBK_MOVE_SWAPS)) != 0 ? HBK_EASE_JUMP
                                                            : 0.0);
    return time + HBK_PRICE_AWKWARD * times;
}

double hbk_ease_hurry(const struct hbk_ease_move *move)
{
    const double share =
        move->available_s > 0.0 ? move->need_s / move->available_s : 1.0;
    return fmin(
        fmax((share - HBK_EASE_HURRY_FROM) / (1.0 - HBK_EASE_HURRY_FROM), 0.0),
        1.0);
}

void hbk_ease_add_note(struct hbk_ease *ease,
                       const struct hbk_fingering *fingering, double weight,
                       size_t which)
{
    const double cents = fingering->cents;
    const double beyond = fmax(fabs(cents) - HBK_EASE_LIP_CENTS, 0.0);
    ease->squares += weight * cents * cents;
    ease->beyond += weight * beyond * beyond;
    ease->care += (fingering->verdict & HBK_VERDICT_CARE) != 0 ? weight : 0.0;
    if (ease->n_notes == 0 || fabs(cents) > fabs(ease->worst_cents)) {
        ease->worst_cents = cents;
        ease->worst = which;
    }
    ease->weight += weight;
    ease->n_notes++;
}

void hbk_ease_add_move(struct hbk_ease *ease, const struct hbk_ease_move *move)
{
    ease->n_moves++;
    ease->n_awkward += (move->reasons & HBK_EASE_AWKWARD) != 0 ? 1 : 0;
    ease->price += hbk_ease_move_price(move);
    ease->hurry += hbk_ease_hurry(move);
}

double hbk_ease_rms_cents(const struct hbk_ease *ease)
{
    return ease->weight > 0.0 ? sqrt(ease->squares / ease->weight)
                              : (double)NAN;
}

double hbk_ease_care_share(const struct hbk_ease *ease)
{
    return ease->weight > 0.0 ? ease->care / ease->weight : 0.0;
}

double hbk_ease_mean_price(const struct hbk_ease *ease)
{
    return ease->n_moves > 0 ? ease->price / (double)ease->n_moves : 0.0;
}
