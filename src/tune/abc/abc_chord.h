#ifndef HBK_TUNE_ABC_ABC_CHORD_H
#define HBK_TUNE_ABC_ABC_CHORD_H

#include "tune/abc/abc.h"

/* What sounds together: chords and overlays (tune/abc/abc_voice.h). */

/* [ before the notes of a chord, at `abc->at`. */
void hbk_abc_chord_begin(struct hbk_abc *abc);
/* The ] after them, at `abc->at`. */
void hbk_abc_chord_end(struct hbk_abc *abc);
/* &, at `abc->at`: back to the bar line, for another voice. */
void hbk_abc_overlay(struct hbk_abc *abc);

#endif
