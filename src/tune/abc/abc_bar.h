#ifndef HBK_TUNE_ABC_ABC_BAR_H
#define HBK_TUNE_ABC_ABC_BAR_H

#include "tune/abc/abc.h"

/* Bar lines, repeats and endings; `abc->at` is at the first sign. */
void hbk_abc_bar_line(struct hbk_abc *abc);
/* An ending: `abc->at` is at its first digit. */
void hbk_abc_ending(struct hbk_abc *abc);
/* Opens the bar that the next note is in, unless it is open. */
void hbk_abc_need_bar(struct hbk_abc *abc);
/* At the end of the tune. */
void hbk_abc_bars_end(struct hbk_abc *abc);
/* Accidentals hold to the end of a bar. */
void hbk_abc_forget_accidentals(struct hbk_abc *abc);

#endif
