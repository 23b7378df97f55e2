#ifndef HBK_SHEET_GLYPH_H
#define HBK_SHEET_GLYPH_H

#include <stdint.h>

/* The music characters in use, by their place in Unicode. */
enum {
    HBK_GLYPH_G_CLEF = 0x1D11E,
    HBK_GLYPH_C_CLEF = 0x1D121,
    HBK_GLYPH_F_CLEF = 0x1D122,
    HBK_GLYPH_WHOLE_HEAD = 0x1D15D,
    HBK_GLYPH_OPEN_HEAD = 0x1D157,
    HBK_GLYPH_BLACK_HEAD = 0x1D158,
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
