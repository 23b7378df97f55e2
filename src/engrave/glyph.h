#ifndef HBK_ENGRAVE_GLYPH_H
#define HBK_ENGRAVE_GLYPH_H

#include <stdint.h>

/* The music characters in use, by their place in Unicode. */
enum {
    HBK_GLYPH_G_CLEF = 0x1D11E,
    HBK_GLYPH_C_CLEF = 0x1D121,
    HBK_GLYPH_F_CLEF = 0x1D122,
    HBK_GLYPH_WHOLE_HEAD = 0x1D15D,
    HBK_GLYPH_OPEN_HEAD = 0x1D157,
    HBK_GLYPH_BLACK_HEAD = 0x1D158,
    HBK_GLYPH_DOUBLE_WHOLE_HEAD = 0x1D15C,
    HBK_GLYPH_REST_4 = 0x1D13D, /* the shorter ones follow, to 128 */
    HBK_GLYPH_REST_8 = 0x1D13E,
    HBK_GLYPH_REST_16 = 0x1D13F,
    HBK_GLYPH_REST_32 = 0x1D140,
    HBK_GLYPH_REST_64 = 0x1D141,
    HBK_GLYPH_REST_128 = 0x1D142,
    HBK_GLYPH_COMMON_TIME = 0x1D134,
    HBK_GLYPH_CUT_TIME = 0x1D135,
    HBK_GLYPH_TRILL = 0x1D196,
    HBK_GLYPH_SEGNO = 0x1D10B,
    HBK_GLYPH_CODA = 0x1D10C,
    HBK_GLYPH_TURN = 0x1D197,
    HBK_GLYPH_INVERTED_TURN = 0x1D198,
    HBK_GLYPH_BREATH = 0x1D112,
    /* The letters of dynamics: r, s, z, p, m, f; their base line is at 0. */
    HBK_GLYPH_DYNAMIC_R = 0x1D18C,
    HBK_GLYPH_DYNAMIC_S = 0x1D18D,
    HBK_GLYPH_DYNAMIC_Z = 0x1D18E,
    HBK_GLYPH_DYNAMIC_P = 0x1D18F,
    HBK_GLYPH_DYNAMIC_M = 0x1D190,
    HBK_GLYPH_DYNAMIC_F = 0x1D191,
    HBK_GLYPH_DOUBLE_SHARP = 0x1D12A,
    HBK_GLYPH_DOUBLE_FLAT = 0x1D12B,
    HBK_GLYPH_FLAT = 0x266D,
    HBK_GLYPH_NATURAL = 0x266E,
    HBK_GLYPH_SHARP = 0x266F
};

/*
 * The ink of a glyph about the origin of mark.h, in staff spaces, upwards
 * positive; the left edge is at 0. Measured on Noto Music 2.000 after the
 * corrections that render/ applies; a test holds the two together.
 */
struct hbk_glyph_box {
    double width;
    double bottom, top;
};

/* The box of one of the glyphs above; a square of one space for others. */
struct hbk_glyph_box hbk_glyph_box(uint32_t glyph);

#endif
