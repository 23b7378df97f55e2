#ifndef HBK_REPORT_ORIGIN_H
#define HBK_REPORT_ORIGIN_H

#include "base/text.h"
#include "solve/gaps.h"
#include "solve/origin.h"

/*
 * Why a note is played as it is, in three sentences at the most: its fingering
 * and how it is in tune; what that comes from, the partial of the open tube,
 * loops or holes, or what is heard above the tube's own; what is taught, where
 * that is another fingering, or which nearer one is on a partial to avoid.
 *
 * gaps   of the horn, for a note that is not available
 */
void hbk_origin_text(const struct hbk_notes *notes,
                     const struct hbk_origin *origin,
                     const struct hbk_gaps *gaps, struct hbk_text *out);

#endif
