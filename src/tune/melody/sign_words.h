#ifndef HBK_TUNE_MELODY_SIGN_WORDS_H
#define HBK_TUNE_MELODY_SIGN_WORDS_H

#include <stdbool.h>

/*
 * What words say about the order in which a tune is played: "D.C. al Fine",
 * "Da Capo", "dal segno al coda", "To Coda", "Fine", "D.S. senza repetizione".
 * The signs themselves may stand for their names, § and % for the segno.
 *
 * understood   receives false when they say something else besides; may be NULL
 *
 * Returns bits of tune/melody/bar.h, as if the words stood over a bar's end;
 * 0 when they speak of something else. AL_FINE or AL_CODA alone is "al Fine"
 * without its beginning.
 */
unsigned hbk_sign_words(const char *words, bool *understood);

enum { HBK_SIGN_TEXT = 64 };

/* "D.C. al Fine" for the bits of a D.C. or D.S.; returns `text`. */
char *hbk_sign_text(unsigned bits, char text[HBK_SIGN_TEXT]);

#endif
