#include "solve/fingering_prices.h"

struct hbk_finger_prices hbk_ranking_fingers(void)
{
    struct hbk_finger_prices prices;
    for (int f = 0; f < HBK_FINGER_COUNT; f++) {
        const bool is_ring = f == HBK_L_RING || f == HBK_R_RING;
        prices.of[f] = is_ring ? HBK_PRICE_RING_FINGER : HBK_PRICE_FINGER;
    }
    return prices;
}
