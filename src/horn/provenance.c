#include "horn/provenance.h"

const char *hbk_part_name(enum hbk_part part)
{
    static const char *const names[HBK_PART_COUNT] = {
        [HBK_PART_LENGTH] = "length",         [HBK_PART_BORE] = "bore",
        [HBK_PART_MOUTHPIECE] = "mouthpiece", [HBK_PART_KEYS] = "keys",
        [HBK_PART_HOLES] = "holes",           [HBK_PART_VALVES] = "valves",
        [HBK_PART_SLIDES] = "slides",         [HBK_PART_CROOKS] = "crooks",
        [HBK_PART_FINGERS] = "fingers",       [HBK_PART_TUNING] = "tuning",
        [HBK_PART_PARTIALS] = "partials",
    };
    return names[part];
}
