#include "base/dice.h"

struct hbk_dice hbk_dice_for(const char *text, size_t number)
{
    uint64_t hash = UINT64_C(0xcbf29ce484222325);
    for (const char *c = text; *c != '\0'; c++) {
        hash = (hash ^ (unsigned char)*c) * UINT64_C(0x100000001b3);
    }
    struct hbk_dice dice = {hash + number};
    dice.state = hbk_dice_next(&dice);
    return dice;
}

uint64_t hbk_dice_next(struct hbk_dice *dice)
{
    dice->state += UINT64_C(0x9e3779b97f4a7c15);
    uint64_t z = dice->state;
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

uint32_t hbk_dice_below(struct hbk_dice *dice, uint32_t n)
{
    return (uint32_t)(((hbk_dice_next(dice) >> 32) * n) >> 32);
}
