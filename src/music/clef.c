#include "music/clef.h"

const char *hbk_clef_name(enum hbk_clef clef)
{
    static const char *const names[HBK_CLEF_COUNT] = {[HBK_TREBLE] = "treble",
                                                      [HBK_BASS] = "bass",
                                                      [HBK_ALTO] = "alto",
                                                      [HBK_TENOR] = "tenor"};
    return names[clef];
}

int hbk_clef_bottom_step(enum hbk_clef clef)
{
    /* E4, G2, F3 and D3. */
    static const int steps[HBK_CLEF_COUNT] = {
        [HBK_TREBLE] = 2, [HBK_BASS] = -10, [HBK_ALTO] = -4, [HBK_TENOR] = -6};
    return steps[clef];
}
