#include "horn/horn.h"

#include "music/pitch.h"

#include <math.h>

void hbk_horn_init(struct hbk_horn *horn)
{
    *horn = (struct hbk_horn){
        .written_c4_sounds = HBK_NOTE_C4,
        .clef = HBK_TREBLE,
        .tuning_note = HBK_NOTE_C4 + 12,
        .a4_hz = HBK_A4_USUAL_HZ,
        .temperature_c = 20.0,
        .length_m = NAN,
        .fundamental_hz = NAN,
        .partials = {.lowest = 2, .highest = 8},
    };
    /* Far from any note of the scale: 31, 49, 41 and 31 cents off. */
    static const unsigned far_off[] = {7, 11, 13, 14};
    for (size_t i = 0; i < sizeof(far_off) / sizeof(far_off[0]); i++) {
        horn->partials.avoid[far_off[i]] = true;
    }
}
