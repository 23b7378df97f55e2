#include "engrave/engrave_shape.h"

/* In staff spaces; gaps by common practice. */
static const double sign_gap = 0.25;
static const double paren_room = 0.55; /* a parenthesis and its gap */
static const double stem = 3.5; /* the SMuFL specification's usual length */

double hbk_eng_sign_room(const struct hbk_eng_note *note)
{
    if (note->sign == 0) {
        return 0.0;
    }
    const double width = hbk_glyph_box(note->sign).width + sign_gap;
    return note->scale * (width + (note->bracketed ? 2.0 * paren_room : 0.0));
}

double hbk_eng_dot_y(int pos)
{
    return hbk_eng_y(pos % 2 == 0 ? pos + 1 : pos);
}

int hbk_eng_ledger_lines(int pos)
{
    if (pos >= 10) {
        return (pos - 8) / 2;
    }
    return pos <= -2 ? pos / 2 : 0;
}

double hbk_eng_stem_length(unsigned flags)
{
    return stem + (flags > 2 ? HBK_ENG_BEAM_STEP * (flags - 2) : 0.0);
}

double hbk_eng_stem_x(const struct hbk_eng_note *note)
{
    const double half = 0.5 * HBK_ENG_STEM_PEN * note->scale;
    return note->up ? note->width - half : half;
}

void hbk_eng_shape_head(struct hbk_eng_note *note, int value)
{
    if (value == HBK_TUNE_NO_VALUE) {
        /* A head alone: better no length than a false one. */
        note->head = HBK_GLYPH_BLACK_HEAD;
        note->width = note->scale * hbk_glyph_box(note->head).width;
        return;
    }
    if (value < 0) {
        note->head = HBK_GLYPH_DOUBLE_WHOLE_HEAD;
    } else if (value == 0) {
        note->head = HBK_GLYPH_WHOLE_HEAD;
    } else {
        note->head = value == 1 ? HBK_GLYPH_OPEN_HEAD : HBK_GLYPH_BLACK_HEAD;
    }
    note->has_stem = value > 0;
    note->flags = value > 2 ? (unsigned)(value > 7 ? 5 : value - 2) : 0;
    note->width = note->scale * hbk_glyph_box(note->head).width;
}
