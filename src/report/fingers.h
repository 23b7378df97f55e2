#ifndef HBK_REPORT_FINGERS_H
#define HBK_REPORT_FINGERS_H

#include "base/text.h"
#include "notes/notes.h"

/*
 * "Fingers: 1 right little (open at rest), 2 right ring, ...": whose numbers
 * the fingerings are; nothing where there is nothing to press.
 */
void hbk_report_fingers(const struct hbk_notes *notes, struct hbk_text *out);

#endif
