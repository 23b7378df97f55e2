#include "engrave/signature.h"

#include "engrave/glyph.h"

#include <math.h>
#include <stdlib.h>

/* Between two accidentals, left edge to left edge, in staff spaces. */
static const double advance = 1.05;

enum { MOST = 7 };

/* Steps above C4 in the treble clef. */
static const int treble_sharps[MOST] = {10, 7, 11, 8, 5, 9, 6};
static const int treble_flats[MOST] = {6, 9, 5, 8, 4, 7, 3};
/* The tenor's sharps begin an octave lower, lest F and G stand too high. */
static const int tenor_sharps[MOST] = {-4, 0, -3, 1, -2, 2, -1};

static int step_of(enum hbk_clef clef, bool sharp, int i)
{
    static const int lower[] = {
        [HBK_TREBLE] = 0, [HBK_BASS] = 14, [HBK_ALTO] = 7, [HBK_TENOR] = 7};
    if (sharp && clef == HBK_TENOR) {
        return tenor_sharps[i];
    }
    return (sharp ? treble_sharps[i] : treble_flats[i]) - lower[clef];
}

void hbk_signature_draw(struct hbk_pad *pad, const struct hbk_staff *staff,
                        int sharps, double x)
{
    hbk_pad_group(pad);
    for (int i = 0; i < abs(sharps); i++) {
        hbk_pad_glyph(pad, x + advance * i * staff->space,
                      hbk_staff_y(staff, step_of(staff->clef, sharps > 0, i)),
                      staff->space,
                      sharps > 0 ? HBK_GLYPH_SHARP : HBK_GLYPH_FLAT, NULL);
    }
}

double hbk_signature_top(enum hbk_clef clef, int sharps)
{
    const double ink =
        hbk_glyph_box(sharps > 0 ? HBK_GLYPH_SHARP : HBK_GLYPH_FLAT).top;
    double top = 0.0;
    for (int i = 0; i < abs(sharps); i++) {
        const int pos =
            step_of(clef, sharps > 0, i) - hbk_clef_bottom_step(clef);
        top = fmax(top, 0.5 * pos + ink);
    }
    return top;
}
