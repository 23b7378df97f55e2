#ifndef HBK_BASE_DICE_H
#define HBK_BASE_DICE_H

#include <stddef.h>
#include <stdint.h>

/*
 * Numbers that look drawn by lot and are the same each time and everywhere:
 * splitmix64 (Steele, Lea, Flood 2014), whose state is a counter. Not for
 * secrets.
 */
struct hbk_dice {
    uint64_t state;
};

/*
 * Dice for a text and a number: other ones for each of either. The text is
 * hashed byte by byte (FNV-1a, 64 bits).
 */
struct hbk_dice hbk_dice_for(const char *text, size_t number);

uint64_t hbk_dice_next(struct hbk_dice *dice);

/* From 0 to below n, which is 1 to 2^32. Even to one part in 2^32 / n. */
uint32_t hbk_dice_below(struct hbk_dice *dice, uint32_t n);

#endif
