#include "render/faces.h"

#include "engrave/glyph.h"

/*
 * Noto Music 2.000, measured: 1 staff space is 244 of its 1000 units and its
 * lowest staff line lies 12 units up. Heads stand in the lowest space (their
 * centre at 0.5), clefs where they belong on the staff, accidentals beside
 * such a head but the natural too low. Its sharp is 3.4 spaces tall, a fifth
 * more than engraving has it, hence the scale.
 */
static const double units_per_space = 244.0;
static const double units_per_em = 1000.0;
static const double bottom_line = 12.0 / 244.0;
static const double sharp_scale = 0.80;

/* Left bearing, and the height above the lowest line to bring to y = 0. */
struct place {
    uint32_t glyph;
    double scale;
    double left;
    double middle;
};

static const struct place places[] = {
    {HBK_GLYPH_G_CLEF, 1.0, 0.205, 1.0},
    {HBK_GLYPH_C_CLEF, 1.0, 0.205, 2.0},
    {HBK_GLYPH_F_CLEF, 1.0, 0.205, 3.0},
    {HBK_GLYPH_WHOLE_HEAD, 1.0, 0.205, 0.5},
    {HBK_GLYPH_OPEN_HEAD, 1.0, 0.205, 0.5},
    {HBK_GLYPH_BLACK_HEAD, 1.0, 0.205, 0.5},
    {HBK_GLYPH_DOUBLE_WHOLE_HEAD, 1.0, 0.205, 0.5},
    {HBK_GLYPH_REST_4, 1.0, 0.209, 2.0},
    {HBK_GLYPH_REST_8, 1.0, 0.205, 2.0},
    {HBK_GLYPH_REST_16, 1.0, 0.205, 2.0},
    {HBK_GLYPH_REST_32, 1.0, 0.205, 2.0},
    {HBK_GLYPH_REST_64, 1.0, 0.205, 2.0},
    {HBK_GLYPH_REST_128, 1.0, 0.205, 2.0},
    {HBK_GLYPH_COMMON_TIME, 1.0, 0.205, 2.0},
    {HBK_GLYPH_CUT_TIME, 1.0, 0.205, 2.0},
    {HBK_GLYPH_TRILL, 1.0, 0.205, 1.385},
    {HBK_GLYPH_SEGNO, 1.0, 0.205, 0.619},
    {HBK_GLYPH_CODA, 1.0, 0.205, 0.959},
    {HBK_GLYPH_TURN, 1.0, 0.205, 1.451},
    {HBK_GLYPH_INVERTED_TURN, 1.0, 0.205, 1.459},
    {HBK_GLYPH_BREATH, 1.0, 0.205, 2.820},
    {HBK_GLYPH_DYNAMIC_R, 1.0, 0.012, 1.389},
    {HBK_GLYPH_DYNAMIC_S, 1.0, 0.102, 1.389},
    {HBK_GLYPH_DYNAMIC_Z, 1.0, -0.197, 1.389},
    {HBK_GLYPH_DYNAMIC_P, 1.0, -0.357, 1.389},
    {HBK_GLYPH_DYNAMIC_M, 1.0, -0.107, 1.389},
    {HBK_GLYPH_DYNAMIC_F, 1.0, -0.553, 1.389},
    {HBK_GLYPH_DOUBLE_SHARP, 1.0, 0.205, 0.488},
    {HBK_GLYPH_DOUBLE_FLAT, 1.0, 0.205, 0.5},
    {HBK_GLYPH_FLAT, 1.0, 0.209, 0.5},
    {HBK_GLYPH_NATURAL, 1.0, 0.209, 0.343},
    {HBK_GLYPH_SHARP, sharp_scale, 0.209, 0.682},
};

struct hbk_music_fix hbk_music_fix(uint32_t glyph)
{
    struct place place = {glyph, 1.0, 0.0, 0.0};
    for (size_t i = 0; i < sizeof(places) / sizeof(places[0]); i++) {
        if (places[i].glyph == glyph) {
            place = places[i];
        }
    }
    const struct hbk_music_fix fix = {
        .scale = place.scale * units_per_em / (4.0 * units_per_space),
        .dx = -place.left * place.scale,
        .dy = -(place.middle + bottom_line) * place.scale,
    };
    return fix;
}
