#ifndef HBK_TUNE_MUSICXML_MUSICXML_EXPORT_PART_H
#define HBK_TUNE_MUSICXML_MUSICXML_EXPORT_PART_H

#include "base/text.h"
#include "tune/melody/lost.h"
#include "tune/melody/mark_stops.h"
#include "tune/melody/write.h"

/*
 * A new MusicXML 4.0 file in the making. Within each element the children
 * stand in the order of the schema; a wrong order is what makes most files
 * invalid.
 */

enum { HBK_MUSICXML_SLURS_MAX = 16 };

struct hbk_musicxml_export {
    const struct hbk_tune *tune;
    const struct hbk_tune_fingering *fingerings;
    struct hbk_text *out;
    int64_t divisions;
    bool slur_open[HBK_MUSICXML_SLURS_MAX];
    int slur_order[HBK_MUSICXML_SLURS_MAX]; /* numbers of the open slurs, oldest
                                               first */
    size_t n_slurs;
    size_t tuplet;                  /* begun last */
    size_t key, meter, clef, tempo; /* the next change of each */
    struct hbk_mark_stops stops;
    struct hbk_lost lost;
    size_t syllable; /* before which all are past */
};

#endif
