#ifndef HBK_READER_NOTE_MEANT_H
#define HBK_READER_NOTE_MEANT_H

#include "music/pitch.h"

/*
 * The note that a text names in another way than files do: in small letters
 * (bb2), by the syllables of Romance languages (sib2, fa diese 3), by the
 * German endings and H (es3, fis4, H3), with the words flat and sharp
 * (B flat 2), with the octave before its sharp or flat (F3#). False where it
 * is none; its octave is taken to count as here.
 */
bool hbk_note_meant(const char *text, char name[HBK_NAME_SIZE]);

/* Whether a text is such, or begins as notes do in files. */
bool hbk_seems_note(const char *text);

#endif
