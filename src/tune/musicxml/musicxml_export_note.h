#ifndef HBK_TUNE_MUSICXML_MUSICXML_EXPORT_NOTE_H
#define HBK_TUNE_MUSICXML_MUSICXML_EXPORT_NOTE_H

#include "base/text.h"
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
};

/* <name>text</name> on a line of its own. */
void hbk_musicxml_put_element(struct hbk_text *out, const char *indent,
                              const char *name, const char *text);
/* The <note> of an event. */
void hbk_musicxml_put_event(struct hbk_musicxml_export *writer, size_t event);

#endif
