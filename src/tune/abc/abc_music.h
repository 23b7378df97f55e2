#ifndef HBK_TUNE_ABC_ABC_MUSIC_H
#define HBK_TUNE_ABC_ABC_MUSIC_H

#include "tune/abc/abc.h"

/* Reads one line of music. */
void hbk_abc_music_line(struct hbk_abc *abc);
/* At the end of the tune. */
void hbk_abc_music_end(struct hbk_abc *abc);

#endif
