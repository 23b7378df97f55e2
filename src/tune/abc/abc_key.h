#ifndef HBK_TUNE_ABC_ABC_KEY_H
#define HBK_TUNE_ABC_ABC_KEY_H

#include "tune/abc/abc.h"

/* K: with tonic, mode, signs and clef. */
void hbk_abc_key_field(struct hbk_abc *abc, const char *text);
/* Clef, octave= and transpose=, as in K: and V:; others are passed over. */
void hbk_abc_clef_words(struct hbk_abc *abc, const char *text);

#endif
