#ifndef HBK_FIT_TROUBLE_NEXT_H
#define HBK_FIT_TROUBLE_NEXT_H

#include "fit/trouble_page.h"

/*
 * The notes that tell two cases apart, into found->next, the best first.
 * judged belongs to found->items; found->pair says which two.
 */
void hbk_trouble_find_next(const struct hbk_trouble_page *page,
                           const struct hbk_trouble_judged judged[],
                           struct hbk_troubles *found);

#endif
