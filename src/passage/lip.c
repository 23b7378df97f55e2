#include "passage/lip.h"

#include <math.h>

static double least_s(unsigned from, unsigned to, double neighbours_s)
{
    if (from == to) {
        return 0.0;
    }
    const unsigned apart = from > to ? from - to : to - from;
    return neighbours_s + (HBK_LIP_FURTHER_S * (apart - 1));
}

double hbk_lip_least_s(unsigned from, unsigned to)
{
    return least_s(from, to, HBK_LIP_PARTIAL_S);
}

double hbk_lip_trill_s(unsigned from, unsigned to)
{
    return least_s(from, to, HBK_LIP_TRILL_S);
}

double hbk_lip_heard(double length_s)
{
    const double length = fmax(length_s, 0.0);
    return length / (length + HBK_LIP_HEARD_S);
}
