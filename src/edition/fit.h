#ifndef HBK_EDITION_FIT_H
#define HBK_EDITION_FIT_H

#include "base/text.h"
#include "fit/fit.h"

/*
 * The fitted horn as a file that stands alone: that of `horn`, merged with
 * what it is based on, with the numbers changed that were learned.
 *
 * horn   as it was read from its file
 * out    receives the file, which has been read again: it is sound
 *
 * Returns HBK_OK, or the reason in `faults`.
 */
enum hbk_status hbk_fit_write_horn(const struct hbk_fit *fit,
                                   const struct hbk_horn *horn,
                                   struct hbk_text *out,
                                   struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
