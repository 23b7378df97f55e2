#ifndef HBK_REPORT_TROUBLE_WORDS_H
#define HBK_REPORT_TROUBLE_WORDS_H

#include "base/text.h"
#include "notes/troubles.h"

/*
 * "the pad of key 3 leaks, as a hole of 2.4 mm would", "nothing is wrong": a
 * sentence without its stop. in_short: without the amount.
 */
void hbk_trouble_words(const struct hbk_horn *horn,
                       const struct hbk_trouble *trouble, bool in_short,
                       struct hbk_text *out);

/* What a player can look at or try who believes that; one sentence or two. */
const char *hbk_trouble_look(const struct hbk_trouble *trouble);

/* "almost certain" ... "unlikely", for a probability. */
const char *hbk_trouble_odds(double probability);

#endif
