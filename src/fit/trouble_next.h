#ifndef HBK_FIT_TROUBLE_NEXT_H
#define HBK_FIT_TROUBLE_NEXT_H

#include "fit/trouble_page.h"

/*
 * The notes that tell the likeliest case from another, into found->next, the
 * best first, and into found->pair which other: the likeliest that any note
 * tells from it. Notes that are as good stand as they are easiest to play. What
 * comes out of a press is the resonance nearest to the note that was meant.
 * judged belongs to found->items, which are in order.
 */
void hbk_trouble_find_next(const struct hbk_trouble_page *page,
                           const struct hbk_trouble_judged judged[],
                           struct hbk_troubles *found);

#endif
