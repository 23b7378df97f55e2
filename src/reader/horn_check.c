#include "reader/work.h"

#include "base/messages.h"
#include "horn/hands.h"
#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>

/* What can only be checked once the whole horn is there. */

/* Whether one hand or two can press all the controls of a mask. */
static bool can_press(const struct hbk_horn *horn, uint32_t press)
{
    static const struct hbk_finger_prices free_of_charge = {{0.0}};
    enum hbk_finger fingers[HBK_CONTROLS_MAX];
    double price = 0.0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        const bool is_pressed = (press >> i & 1U) != 0;
        if (is_pressed && horn->controls[i].n_fingers == 0) {
            return true; /* reported as such */
        }
        if (is_pressed && horn->controls[i].alone) {
            return false;
        }
    }
    return hbk_hands_assign(horn, press, &free_of_charge, fingers, &price);
}

/* A loop for a combination that cannot be pressed works nothing. */
static void check_combinations(const struct hbk_work *work)
{
    const struct hbk_horn *const horn = work->horn;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const uint32_t term = horn->sites[k].terms[0];
        const bool is_single = (term & (term - 1)) == 0;
        if (!is_single && !can_press(horn, term)) {
            hbk_fields_fault(&work->site_fields[k], HBK_H_NOT_TOGETHER,
                             "what it needs cannot be pressed together; give "
                             "each another 'finger', and none of them 'alone'");
        }
    }
}

/* What is left of the tube at rest above the uppermost hole, as a share. */
static double shortest_share(const struct hbk_work *work)
{
    const struct hbk_horn *const horn = work->horn;
    double shortest = 1.0;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_hole *const hole = &horn->sites[k].hole;
        if (horn->sites[k].kind != HBK_HOLE) {
            continue;
        }
        if (!isnan(hole->raises)) {
            shortest = fmin(shortest, 1.0 / exp2(hole->raises / 12.0));
        } else if (!isnan(hole->from_bell_m)) {
            shortest = fmin(shortest, 1.0 - (hole->from_bell_m / work->tube_m));
        }
    }
    return shortest;
}

/* What taking the loop out takes off the tube at rest, as a share. */
static double share_of(const struct hbk_work *work, const struct hbk_loop *loop)
{
    switch (loop->measure) {
    case HBK_LOOP_METRES:
        return loop->value / work->tube_m;
    case HBK_LOOP_SHARE:
        return loop->value;
    case HBK_LOOP_CENTS:
        return 1.0 - hbk_cents_ratio(-loop->value);
    }
    return 0.0;
}

/* Valves that shorten must leave some tube, whatever is pressed together. */
static void check_shortening(const struct hbk_work *work)
{
    const struct hbk_horn *const horn = work->horn;
    /* The stations of a bore leave the loops out, whatever their rest. */
    if (horn->model == HBK_MODEL_BORE || !(work->tube_m > 0.0)) {
        return;
    }
    const double room = shortest_share(work);
    double together = 0.0;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind != HBK_LOOP || !site->at_rest) {
            continue;
        }
        const bool is_alone = horn->controls[work->site_control[k]].alone;
        const double share = share_of(work, &site->loop);
        together += is_alone ? 0.0 : share;
        if (fmax(share, is_alone ? 0.0 : together) >= room) {
            hbk_fields_fault(&work->site_fields[k], HBK_H_COLUMN_VANISHES,
                             "with this loop out, and what else can go out "
                             "with it, no tube is left; shorten the loop, or "
                             "write 'alone: true' if it is never pressed with "
                             "others");
            return;
        }
    }
}

void hbk_work_check(struct hbk_work *work)
{
    check_combinations(work);
    check_shortening(work);
}
