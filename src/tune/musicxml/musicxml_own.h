#ifndef HBK_TUNE_MUSICXML_MUSICXML_OWN_H
#define HBK_TUNE_MUSICXML_MUSICXML_OWN_H

#include "tune/melody/document.h"
#include "tune/musicxml/xml_spots.h"

/*
 * What an earlier call wrote into a score, told from what was there. A
 * processing instruction before each thing that was added says what it is:
 * <?hornbook fingering?>, or technical or notations where these were new.
 * What is added begins right behind a tag, with blanks of its own before the
 * instruction; so all of it can be taken out again to the byte. An instruction
 * with other words stands alone.
 */

#define HBK_MUSICXML_MARK "hornbook"

/* Takes out all of it. */
void hbk_musicxml_take_own(struct hbk_xml_spots *spots, const xmlNode *root);

/*
 * Takes out what stands at notes of the line that was read, in its part and
 * voice, and what stands at no note.
 */
void hbk_musicxml_take_own_of(struct hbk_xml_spots *spots, const xmlNode *root,
                              const struct hbk_tune_document *document);

#endif
