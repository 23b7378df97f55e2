#include "passage/surcharge.h"

#include <math.h>

double hbk_departure_price(const struct hbk_fingering *usual,
                           const struct hbk_fingering *other)
{
    const double charged = fmax(other->untaught - usual->untaught, 0.0);
    return fmax(HBK_PRICE_DEPARTURE - charged, 0.0);
}

double hbk_grace_price(double least_s, double available_s)
{
    const double time_s = fmax(available_s, HBK_GRACE_UNHURRIED_S);
    const double ratio = fmin(fmax(least_s, 0.0) / time_s, 1.0);
    return HBK_PRICE_GRACE * ratio * ratio;
}
