#include "passage/lip.h"

#include <math.h>

double hbk_lip_least_s(unsigned from, unsigned to, bool slurred)
{
    if (from == to) {
        return 0.0;
    }
    const unsigned apart = from > to ? from - to : to - from;
    return (HBK_LIP_PARTIAL_S + (HBK_LIP_FURTHER_S * (apart - 1))) *
           (slurred ? HBK_LIP_SLURRED : 1.0);
}

double hbk_lip_heard(double length_s)
{
    const double length = fmax(length_s, 0.0);
    return length / (length + HBK_LIP_HEARD_S);
}
