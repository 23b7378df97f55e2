#ifndef HBK_SHEET_WORDS_WORDS_SLIDES_H
#define HBK_SHEET_WORDS_WORDS_SLIDES_H

#include "notes/slides.h"

/* What is said of the slides of a horn; as sheet/words/words.h. */

/* Beyond this a note is listed as staying out of tune, cents. */
#define HBK_STAYS_OUT_CENTS 15.0

/*
 * What pitches the horn reaches, and what a mm and a degree do to it: "One
 * degree warmer is 2.9 cents sharper. The horn can be tuned from A = 428.0 to
 * 441.2 Hz."
 */
const char *hbk_words_reach(struct hbk_arena *arena,
                            const struct hbk_slides *slides);

/*
 * What the ways to set the valve slides come to: "All notes together are 24
 * cents off with the valve slides in, 12 at each valve's own interval, 10 in
 * the best compromise."; "" without valve slides.
 */
const char *hbk_words_slide_ways(struct hbk_arena *arena,
                                 const struct hbk_slides *slides);

/* Which slides would go further than they can; "" for none. */
const char *hbk_words_slide_limits(struct hbk_arena *arena,
                                   const struct hbk_slides *slides);

/* "main slide", "shank". */
const char *hbk_words_slide_name(struct hbk_arena *arena,
                                 const struct hbk_slide *slide);

/*
 * What the hand does with slide `s`, to be followed by how far: "Pull the main
 * slide" (10 mm), "Push the shank" (in), "Stuck: the first slide" (in).
 */
const char *hbk_words_slide_order(struct hbk_arena *arena,
                                  const struct hbk_slides *slides, size_t s);

/* Whether there are slides, and none is pulled, and no bit is in. */
bool hbk_slides_all_in(const struct hbk_slides *slides);

#endif
