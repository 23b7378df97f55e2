#ifndef HBK_REPORT_ORIGIN_H
#define HBK_REPORT_ORIGIN_H

#include "base/text.h"
#include "notes/origin.h"
#include "solve/gaps.h"

/*
 * Why a note is played as it is, in two to four sentences: its fingering and
 * how it is in tune; what of that is the partial's doing and what that of loops
 * or holes; what is taught, where that is another fingering.
 *
 * gaps   of the horn, for a note that is not available
 */
void hbk_origin_text(const struct hbk_notes *notes,
                     const struct hbk_origin *origin,
                     const struct hbk_gaps *gaps, struct hbk_text *out);

#endif
