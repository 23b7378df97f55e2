#ifndef HBK_SHEET_BLOCK_INSTRUMENT_H
#define HBK_SHEET_BLOCK_INSTRUMENT_H

#include "page/pad.h"
#include "sheet/block/instrument_lay.h"

/* The instrument drawn straight; see struct hbk_instrument. */

/* What it takes above and below its axis, mm. */
double hbk_instrument_above(const struct hbk_instrument *instrument);
double hbk_instrument_below(const struct hbk_instrument *instrument);

/* The fingers of a control without their hand: "thumb", "thumb/little". */
const char *hbk_instrument_fingers(struct hbk_arena *arena,
                                   const struct hbk_control *control);

void hbk_instrument_draw(struct hbk_pad *pad,
                         const struct hbk_instrument *instrument, double axis);

#endif
