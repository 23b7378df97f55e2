#ifndef HBK_MUSIC_CLEF_H
#define HBK_MUSIC_CLEF_H

enum hbk_clef { HBK_TREBLE, HBK_BASS, HBK_ALTO, HBK_TENOR, HBK_CLEF_COUNT };

/* "treble", "bass", "alto", "tenor". */
const char *hbk_clef_name(enum hbk_clef clef);

/* Staff step (see hbk_spelling_staff_step) on the lowest line of a clef. */
int hbk_clef_bottom_step(enum hbk_clef clef);

#endif
