#ifndef HBK_HORN_STUCK_H
#define HBK_HORN_STUCK_H

#include "base/text.h"
#include "horn/horn.h"

/*
 * Reads "key:3=open,valve:2=down,trigger:T=in", blanks around the commas
 * allowed. A key is named by what its hole does, whichever way it rests.
 *
 * why   receives what would be right, as the end of a sentence
 *
 * Returns false, with `stuck` untouched, when the list cannot be read, names
 * what the horn has not, or says one thing both ways.
 */
bool hbk_stuck_parse(const struct hbk_horn *horn, const char *list,
                     struct hbk_stuck *stuck, struct hbk_text *why);

#endif
