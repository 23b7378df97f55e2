#include "music/fifths.h"

enum { STEPS = 7, SIGN = 7 };

int hbk_rest_of(int a, int b)
{
    return ((a % b) + b) % b;
}

int hbk_whole_part(int a, int b)
{
    return (a - hbk_rest_of(a, b)) / b;
}

int hbk_fifths_of(int step, int alter)
{
    static const int naturals[STEPS] = {0, 2, 4, -1, 1, 3, 5};
    return naturals[step] + (SIGN * alter);
}

int hbk_fifths_step(int fifths)
{
    return hbk_rest_of(4 * fifths, STEPS);
}

int hbk_fifths_alter(int fifths)
{
    return hbk_whole_part(fifths + 1, SIGN);
}
