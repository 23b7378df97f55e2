#ifndef HBK_EDITION_ORIGIN_H
#define HBK_EDITION_ORIGIN_H

#include "base/text.h"
#include "notes/setting.h"

struct hbk_faults;
struct hbk_horn;

/*
 * Solves a horn and tells of each note asked for why it is played as it is, a
 * paragraph a note, under the head that says how the horn is set.
 *
 * asked   "Eb4 B4", names of written notes
 * bad     receives what would be right, to follow the name of what is at
 *         fault, and HBK_ERR_INPUT is returned; it stays empty for the faults
 *         of the horn, which go into `faults`
 */
enum hbk_status hbk_explain_notes(const struct hbk_horn *horn,
                                  const struct hbk_setting *setting,
                                  const char *asked, struct hbk_text *out,
                                  struct hbk_text *bad,
                                  struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
