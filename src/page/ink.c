#include "page/ink.h"

double hbk_ink_level(enum hbk_ink ink)
{
    static const double levels[] = {[HBK_BLACK] = 0.0,
                                    [HBK_GREY] = 0.35,
                                    [HBK_PALE] = 0.85,
                                    [HBK_TINT] = 0.945,
                                    [HBK_WHITE] = 1.0};
    return levels[ink];
}
