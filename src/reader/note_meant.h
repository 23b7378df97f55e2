#ifndef HBK_READER_NOTE_MEANT_H
#define HBK_READER_NOTE_MEANT_H

#include <stdbool.h>

/*
 * Whether a text begins as notes do in files, or names a note in another way:
 * in small letters (bb2), by the syllables of Romance languages (sib2, fa
 * diese 3), by the German endings and H (es3, fis4, H3), with the words flat
 * and sharp (B flat 2), with the octave before its sharp or flat (F3#).
 */
bool hbk_seems_note(const char *text);

#endif
