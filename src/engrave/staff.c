#include "engrave/staff.h"

#include "engrave/glyph.h"
#include "engrave/pens.h"

/* In staff spaces. */
static const double ledger_beyond_sign = 0.1; /* beside an accidental */
static const double accidental_gap = 0.25;
/*
 * Between two spellings; wide enough that ledger lines of one head stay
 * clear of those of the next: two overhangs and a little.
 */
static const double spelling_gap = 1.0;
static const double clef_indent = 0.5;

/* A clef: its glyph, and the line it names, counted from 0 at the bottom. */
struct clef {
    uint32_t glyph;
    int line;
};

static struct clef clef_of(enum hbk_clef clef)
{
    static const struct clef clefs[] = {
        [HBK_TREBLE] = {HBK_GLYPH_G_CLEF, 1},
        [HBK_BASS] = {HBK_GLYPH_F_CLEF, 3},
        [HBK_ALTO] = {HBK_GLYPH_C_CLEF, 2},
        [HBK_TENOR] = {HBK_GLYPH_C_CLEF, 3},
    };
    return clefs[clef];
}

void hbk_clef_reach(enum hbk_clef clef, double *above, double *below)
{
    const struct clef sign = clef_of(clef);
    const struct hbk_glyph_box box = hbk_glyph_box(sign.glyph);
    const double top = sign.line + box.top - 4.0;
    const double bottom = -(sign.line + box.bottom);
    *above = top > 0.0 ? top : 0.0;
    *below = bottom > 0.0 ? bottom : 0.0;
}

double hbk_staff_y(const struct hbk_staff *staff, int step)
{
    const int up = step - hbk_clef_bottom_step(staff->clef);
    return staff->bottom - 0.5 * up * staff->space;
}

/* In the pad's group. */
static void put_lines(struct hbk_pad *pad, const struct hbk_staff *staff)
{
    for (int line = 0; line < 5; line++) {
        hbk_pad_line(pad, staff->x, staff->bottom - line * staff->space,
                     staff->width, 0.0, HBK_ENG_STAFF_PEN * staff->space);
    }
}

void hbk_staff_lines(struct hbk_pad *pad, const struct hbk_staff *staff)
{
    hbk_pad_group(pad);
    put_lines(pad, staff);
}

void hbk_staff_open_lines(struct hbk_pad *pad, const struct hbk_staff *staff)
{
    pad->group = HBK_GROUP_STAFF;
    put_lines(pad, staff);
}

void hbk_staff_clef(struct hbk_pad *pad, const struct hbk_staff *staff)
{
    const struct clef sign = clef_of(staff->clef);
    hbk_pad_group(pad);
    hbk_pad_glyph(pad, staff->x + clef_indent * staff->space,
                  staff->bottom - sign.line * staff->space, staff->space,
                  sign.glyph, NULL);
}

struct hbk_heads hbk_heads_of(int note)
{
    struct hbk_heads heads = {1, {hbk_note_sharp(note), hbk_note_flat(note)}};
    if (hbk_note_is_black(note)) {
        heads.n = 2;
    }
    return heads;
}

uint32_t hbk_spelling_accidental(struct hbk_spelling spelling)
{
    static const uint32_t glyphs[] = {HBK_GLYPH_DOUBLE_FLAT, HBK_GLYPH_FLAT, 0,
                                      HBK_GLYPH_SHARP, HBK_GLYPH_DOUBLE_SHARP};
    return glyphs[spelling.alter + 2];
}

/* Room for the accidental and its gap, in spaces. */
static double accidental_room(struct hbk_spelling spelling)
{
    const uint32_t glyph = hbk_spelling_accidental(spelling);
    return glyph == 0 ? 0.0 : hbk_glyph_box(glyph).width + accidental_gap;
}

double hbk_heads_width(const struct hbk_heads *heads, double space)
{
    double width = ((double)heads->n - 1.0) * spelling_gap;
    for (size_t i = 0; i < heads->n; i++) {
        width += accidental_room(heads->spelling[i]) +
                 hbk_glyph_box(HBK_GLYPH_WHOLE_HEAD).width;
    }
    return width * space;
}

void hbk_heads_reach(enum hbk_clef clef, const struct hbk_heads *heads,
                     double *above, double *below)
{
    *above = 0.0;
    *below = 0.0;
    for (size_t i = 0; i < heads->n; i++) {
        const struct hbk_spelling spelling = heads->spelling[i];
        struct hbk_glyph_box box = hbk_glyph_box(HBK_GLYPH_WHOLE_HEAD);
        const uint32_t accidental = hbk_spelling_accidental(spelling);
        if (accidental != 0) {
            const struct hbk_glyph_box sign = hbk_glyph_box(accidental);
            box.top = sign.top > box.top ? sign.top : box.top;
            box.bottom = sign.bottom < box.bottom ? sign.bottom : box.bottom;
        }
        const double y = 0.5 * (hbk_spelling_staff_step(spelling) -
                                hbk_clef_bottom_step(clef));
        if (y + box.top - 4.0 > *above) {
            *above = y + box.top - 4.0;
        }
        if (-(y + box.bottom) > *below) {
            *below = -(y + box.bottom);
        }
    }
}

void hbk_staff_ledgers(struct hbk_pad *pad, const struct hbk_staff *staff,
                       double x, double width, bool has_sign, int step)
{
    const double space = staff->space;
    const int low = hbk_clef_bottom_step(staff->clef);
    const double beyond_left =
        has_sign ? ledger_beyond_sign : HBK_ENG_LEDGER_BEYOND;
    const double left = x - beyond_left * space;
    const double length = width + (beyond_left + HBK_ENG_LEDGER_BEYOND) * space;
    for (int at = low - 2; at >= step; at -= 2) {
        hbk_pad_line(pad, left, hbk_staff_y(staff, at), length, 0.0,
                     HBK_ENG_LEDGER_PEN * space);
    }
    for (int at = low + 10; at <= step; at += 2) {
        hbk_pad_line(pad, left, hbk_staff_y(staff, at), length, 0.0,
                     HBK_ENG_LEDGER_PEN * space);
    }
}

void hbk_heads_draw(struct hbk_pad *pad, const struct hbk_staff *staff,
                    double centre, const struct hbk_heads *heads)
{
    const double space = staff->space;
    double x = centre - 0.5 * hbk_heads_width(heads, space);
    const double head = hbk_glyph_box(HBK_GLYPH_WHOLE_HEAD).width * space;
    for (size_t i = 0; i < heads->n; i++) {
        const struct hbk_spelling spelling = heads->spelling[i];
        const int step = hbk_spelling_staff_step(spelling);
        const double y = hbk_staff_y(staff, step);
        hbk_pad_group(pad);
        const bool has_sign = hbk_spelling_accidental(spelling) != 0;
        if (has_sign) {
            hbk_pad_glyph(pad, x, y, space, hbk_spelling_accidental(spelling),
                          NULL);
        }
        x += accidental_room(spelling) * space;
        hbk_staff_ledgers(pad, staff, x, head, has_sign, step);
        char name[HBK_NAME_SIZE];
        hbk_pad_glyph(
            pad, x, y, space, HBK_GLYPH_WHOLE_HEAD,
            hbk_spelling_said(spelling, staff->naming, HBK_UNICODE, name));
        x += head + spelling_gap * space;
    }
}
