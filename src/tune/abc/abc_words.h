#ifndef HBK_TUNE_ABC_ABC_WORDS_H
#define HBK_TUNE_ABC_ABC_WORDS_H

#include "tune/abc/abc.h"

/* Lines that go note by note under the music (sections 4.15 and 5). */

/* w: one verse. */
void hbk_abc_words_line(struct hbk_abc *abc, const char *text);
/* s: decorations and texts. */
void hbk_abc_signs_line(struct hbk_abc *abc, const char *text);

#endif
