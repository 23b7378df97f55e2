#ifndef HBK_TUNE_MUSICXML_MUSICXML_TUPLET_H
#define HBK_TUNE_MUSICXML_MUSICXML_TUPLET_H

#include "tune/musicxml/score.h"

/* How many tuplets begin and end at a note, by their signs. */
struct hbk_musicxml_ends {
    unsigned starts, stops;
};

/* Puts a note that is about to be added in its tuplet, if it is in one. */
void hbk_musicxml_put_in_tuplet(struct hbk_musicxml_reader *reader,
                                const xmlNode *node,
                                struct hbk_tune_event *event,
                                struct hbk_musicxml_ends ends);

#endif
