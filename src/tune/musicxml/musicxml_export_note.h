#ifndef HBK_TUNE_MUSICXML_MUSICXML_EXPORT_NOTE_H
#define HBK_TUNE_MUSICXML_MUSICXML_EXPORT_NOTE_H

#include "tune/musicxml/musicxml_export_part.h"

/* <name>text</name> on a line of its own. */
void hbk_musicxml_put_element(struct hbk_text *out, const char *indent,
                              const char *name, const char *text);
/* The <note> of an event. */
void hbk_musicxml_put_event(struct hbk_musicxml_export *writer, size_t event);

#endif
