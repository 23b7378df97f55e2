#ifndef HBK_REPORT_ORIGIN_H
#define HBK_REPORT_ORIGIN_H

#include "base/text.h"
#include "solve/gaps.h"
#include "solve/origin.h"

/*
 * Why a note is played as it is, in three sentences at the most: its fingering
 * and how it is in tune; what that comes from, the partial of the open horn,
 * loops or holes, or the harmonics that sound with it, in cents as they stand
 * in the table; what is taught, where that is another fingering, or which
 * nearer one is on a partial to avoid. A key alone is held to the note that it
 * is called.
 *
 * gaps   of the horn, for a note that is not available
 */
void hbk_origin_text(const struct hbk_notes *notes,
                     const struct hbk_origin *origin,
                     const struct hbk_gaps *gaps, struct hbk_text *out);

#endif
