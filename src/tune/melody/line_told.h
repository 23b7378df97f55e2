#ifndef HBK_TUNE_MELODY_LINE_TOLD_H
#define HBK_TUNE_MELODY_LINE_TOLD_H

#include "tune/melody/build.h"

/*
 * Warns that one line was read of chords, voices or staves, how many there
 * were, and what else could be asked for; a warning each.
 */
void hbk_line_tell(struct hbk_build *build);

#endif
