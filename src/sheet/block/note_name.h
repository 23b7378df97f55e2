#ifndef HBK_SHEET_BLOCK_NOTE_NAME_H
#define HBK_SHEET_BLOCK_NOTE_NAME_H

#include "notes/notation.h"
#include "page/pad.h"

/*
 * The one usual name of a written note as its reader calls it, "E♭", with a
 * small figure of its octave, so that a note is never taken for a pitch.
 * `style` is that of the letters.
 */
double hbk_note_name_width(const struct hbk_pad *pad, struct hbk_style style,
                           const struct hbk_notation *notation, int written);

/* Draws it where style.align says, in the pad's group. */
void hbk_note_name_draw(struct hbk_pad *pad, double x, double y,
                        struct hbk_style style,
                        const struct hbk_notation *notation, int written);

#endif
