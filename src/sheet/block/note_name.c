#include "sheet/block/note_name.h"

#include <math.h>
#include <stdio.h>

/* The figure of the octave, of the letters' em, and its place below them. */
static const double octave_share = 0.66;
static const double octave_points = 7.5;
static const double sunk = 0.16;
static const double gap = 0.06;

enum { OCTAVE_SIZE = 16 };

static struct hbk_style octave_style(struct hbk_style style)
{
    style.face = HBK_FACE_PLAIN;
    style.align = HBK_LEFT;
    style.size = fmax(octave_share * style.size, HBK_PT(octave_points));
    return style;
}

static struct hbk_spelling spelled(const struct hbk_notation *notation,
                                   int written)
{
    return hbk_note_usual(hbk_notation_note(notation, written));
}

static const char *octave_of(const struct hbk_notation *notation, int written,
                             char text[OCTAVE_SIZE])
{
    (void)snprintf(text, OCTAVE_SIZE, "%d", spelled(notation, written).octave);
    return text;
}

double hbk_note_name_width(const struct hbk_pad *pad, struct hbk_style style,
                           const struct hbk_notation *notation, int written)
{
    char name[HBK_NAME_SIZE];
    char octave[OCTAVE_SIZE];
    hbk_spelling_called(spelled(notation, written), notation->naming,
                        HBK_UNICODE, name);
    return hbk_pad_width(pad, style, name) + gap * style.size +
           hbk_pad_width(pad, octave_style(style),
                         octave_of(notation, written, octave));
}

void hbk_note_name_draw(struct hbk_pad *pad, double x, double y,
                        struct hbk_style style,
                        const struct hbk_notation *notation, int written)
{
    static const double shares[] = {
        [HBK_LEFT] = 0.0, [HBK_CENTRE] = 0.5, [HBK_RIGHT] = 1.0};
    char name[HBK_NAME_SIZE];
    char octave[OCTAVE_SIZE];
    hbk_spelling_called(spelled(notation, written), notation->naming,
                        HBK_UNICODE, name);
    const double left =
        x - shares[style.align] *
                hbk_note_name_width(pad, style, notation, written);
    style.align = HBK_LEFT;
    hbk_pad_text(pad, left, y, style, name);
    hbk_pad_text(pad, left + hbk_pad_width(pad, style, name) + gap * style.size,
                 y + sunk * style.size, octave_style(style),
                 octave_of(notation, written, octave));
}
