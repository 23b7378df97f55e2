#include "engrave/glyph.h"

#include <stddef.h>

struct hbk_glyph_box hbk_glyph_box(uint32_t glyph)
{
    static const struct {
        uint32_t glyph;
        struct hbk_glyph_box box;
    } table[] = {
        {HBK_GLYPH_G_CLEF, {2.51, -2.68, 4.42}},
        {HBK_GLYPH_C_CLEF, {2.77, -2.10, 2.10}},
        {HBK_GLYPH_F_CLEF, {2.84, -2.64, 0.64}},
        {HBK_GLYPH_WHOLE_HEAD, {1.70, -0.52, 0.52}},
        {HBK_GLYPH_OPEN_HEAD, {1.22, -0.56, 0.56}},
        {HBK_GLYPH_BLACK_HEAD, {1.22, -0.56, 0.56}},
        {HBK_GLYPH_DOUBLE_WHOLE_HEAD, {2.51, -0.68, 0.68}},
        {HBK_GLYPH_REST_4, {1.05, -1.55, 1.55}},
        {HBK_GLYPH_REST_8, {1.07, -0.95, 0.94}},
        {HBK_GLYPH_REST_16, {1.35, -1.45, 1.44}},
        {HBK_GLYPH_REST_32, {1.64, -2.07, 1.87}},
        {HBK_GLYPH_REST_64, {1.93, -2.58, 2.38}},
        {HBK_GLYPH_REST_128, {2.21, -3.10, 2.89}},
        {HBK_GLYPH_COMMON_TIME, {1.73, -1.05, 1.04}},
        {HBK_GLYPH_CUT_TIME, {1.73, -1.75, 1.73}},
        {HBK_GLYPH_TRILL, {1.84, 0.0, 1.65}},
        {HBK_GLYPH_SEGNO, {2.11, 0.0, 2.77}},
        {HBK_GLYPH_CODA, {1.82, 0.0, 2.08}},
        {HBK_GLYPH_TURN, {2.64, 0.0, 1.09}},
        {HBK_GLYPH_INVERTED_TURN, {2.64, 0.0, 1.09}},
        {HBK_GLYPH_BREATH, {0.74, 0.0, 1.23}},
        {HBK_GLYPH_DYNAMIC_R, {1.24, 0.06, 1.16}},
        {HBK_GLYPH_DYNAMIC_S, {0.92, 0.0, 1.16}},
        {HBK_GLYPH_DYNAMIC_Z, {1.23, 0.0, 1.10}},
        {HBK_GLYPH_DYNAMIC_P, {1.78, -0.64, 1.16}},
        {HBK_GLYPH_DYNAMIC_M, {2.02, 0.0, 1.16}},
        {HBK_GLYPH_DYNAMIC_F, {2.11, -0.63, 1.76}},
        {HBK_GLYPH_DOUBLE_SHARP, {1.07, -0.54, 0.54}},
        {HBK_GLYPH_DOUBLE_FLAT, {1.51, -0.78, 1.98}},
        {HBK_GLYPH_FLAT, {1.01, -0.66, 1.60}},
        {HBK_GLYPH_NATURAL, {1.05, -1.27, 1.27}},
        {HBK_GLYPH_SHARP, {1.48, -1.35, 1.35}},
    };
    for (size_t i = 0; i < sizeof(table) / sizeof(table[0]); i++) {
        if (table[i].glyph == glyph) {
            return table[i].box;
        }
    }
    const struct hbk_glyph_box square = {1.0, -0.5, 0.5};
    return square;
}
