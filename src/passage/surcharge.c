#include "passage/surcharge.h"

#include "horn/horn.h"

#include <math.h>

double hbk_departure_price(const struct hbk_fingering *usual,
                           const struct hbk_fingering *other)
{
    const double charged = fmax(other->untaught - usual->untaught, 0.0);
    return fmax(HBK_PRICE_DEPARTURE - charged, 0.0);
}

double hbk_held_price(double length_s)
{
    const double ratio =
        fmin(fmax(length_s, 0.0), HBK_HELD_NEVER_S) / HBK_HELD_S;
    const double fourth = ratio * ratio * ratio * ratio;
    return HBK_PRICE_DEPARTURE * fourth * fourth;
}

/* Whether a control works a hole, and not a loop alone. */
static bool is_of_a_hole(const struct hbk_horn *horn, size_t control)
{
    for (size_t i = 0; i < horn->n_sites; i++) {
        const struct hbk_site *const site = &horn->sites[i];
        for (size_t t = 0; t < site->n_terms && site->kind == HBK_HOLE; t++) {
            if ((site->terms[t] >> control & 1U) != 0) {
                return true;
            }
        }
    }
    return false;
}

double hbk_unsure_price(const struct hbk_keywork *keywork, uint32_t press)
{
    const struct hbk_horn *const horn = keywork->horn;
    if (horn->model == HBK_MODEL_BORE) {
        return 0.0;
    }
    bool any_open = false;
    size_t n = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        if ((press >> i & 1U) != 0 && is_of_a_hole(horn, i)) {
            any_open = any_open || !isnan(keywork->height[i]);
            n++;
        }
    }
    /* The highest is the one that counts. */
    return any_open ? HBK_UNSURE_CENTS * HBK_UNSURE_CENTS * (double)(n - 1)
                    : 0.0;
}

double hbk_grace_price(double least_s, double available_s)
{
    const double time_s = fmax(available_s, HBK_GRACE_UNHURRIED_S);
    const double ratio = fmin(fmax(least_s, 0.0) / time_s, 1.0);
    return HBK_PRICE_GRACE * ratio * ratio;
}
