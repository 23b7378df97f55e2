#ifndef HBK_HORN_CLEF_H
#define HBK_HORN_CLEF_H

enum hbk_clef { HBK_TREBLE, HBK_BASS, HBK_ALTO, HBK_TENOR };

#endif
