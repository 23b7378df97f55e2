#ifndef HBK_NOTES_NOTATION_H
#define HBK_NOTES_NOTATION_H

#include "horn/clef.h"
#include "music/pitch.h"

/*
 * How notes are put on paper for whoever reads them. Everything that is
 * computed keeps to the notes as the horn is written; only what is drawn and
 * named goes by the notation.
 */
struct hbk_notation {
    enum hbk_clef clef;
    int shift; /* semitones from the horn's written note to the one he reads */
    enum hbk_naming naming;
};

/* As the horn itself is written, in English names. */
struct hbk_notation hbk_notation_own(enum hbk_clef clef);

/* The note that this player reads for a written note of the horn. */
int hbk_notation_note(const struct hbk_notation *notation, int written);

#endif
