#ifndef HBK_REPORT_GAP_H
#define HBK_REPORT_GAP_H

#include "base/text.h"
#include "horn/partials.h"
#include "solve/gaps.h"

/*
 * Why notes are not available, in words that follow "not B3: ": what the gaps
 * of that reason share; for those far off, how far they all are.
 *
 * used   the partials that the horn is played on
 */
void hbk_gap_text(const struct hbk_gaps *gaps, const struct hbk_gap *gap,
                  const struct hbk_partials *used, struct hbk_text *out);

#endif
