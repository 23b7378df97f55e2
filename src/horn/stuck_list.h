#ifndef HBK_HORN_STUCK_LIST_H
#define HBK_HORN_STUCK_LIST_H

#include "horn/stuck.h"

#include <stddef.h>

struct hbk_horn;
struct hbk_text;

/*
 * Reads what is stuck: "key:3=open, valve:2=down, trigger:T=in,
 * slide:main=in, slide:crook tenon=12", blanks around commas and equals
 * signs allowed. A key is named by what its hole does, whichever way it rests;
 * "shut" is closed. A slide is so many mm out, 0 to its travel; "in" is 0.
 * "mended", said of any, takes back what `base` says of it.
 *
 * base   what is known to be stuck already; the list replaces it for what it
 *        names, the rest stays. NULL for nothing
 * stuck  result; may be the base
 * why    receives what would be right, as the end of a sentence
 *
 * Returns false, with `stuck` untouched, when the list cannot be read, names
 * what the horn has not, or says two things of one.
 */
bool hbk_stuck_parse(const struct hbk_horn *horn, const struct hbk_stuck *base,
                     const char *list, struct hbk_stuck *stuck,
                     struct hbk_text *why);

/* The length of the first item of such a list; a comma or the end follows. */
size_t hbk_stuck_item_length(const char *list);

/* How much of an item says what is stuck: "slide:main" of "slide:main=12". */
size_t hbk_stuck_subject_length(const char *item, size_t length);

#endif
