#ifndef HBK_BEGIN_QUESTION_H
#define HBK_BEGIN_QUESTION_H

#include "begin/draft.h"

/*
 * What is asked of a player, one thing at a time, in the trade's words. What
 * is usual is that of the draft, so it follows what was said before.
 */

/*
 * The question without its mark of what is usual, lines of 78 columns at most;
 * NULL where it is not asked of such a horn. `draft` is NULL before the kind
 * is known.
 */
const char *hbk_question_words(enum hbk_question question,
                               const struct hbk_answers *answers,
                               const struct hbk_draft *draft);

/* The answer that Enter gives, as hbk_answer() reads it; in the arena. */
const char *hbk_question_usual(enum hbk_question question,
                               const struct hbk_answers *answers,
                               const struct hbk_draft *draft);

/*
 * What must be said before a horn can be begun, as options: "--key and
 * --keys"; "" where nothing is missing. A pattern's kind says all of it.
 */
const char *hbk_question_missing(const struct hbk_answers *answers);

/* The option that says the same, without its dashes: "lowers". */
const char *hbk_question_option(enum hbk_question question);

/*
 * Takes over what a pattern is: its kind, key, counts, open keys, names and
 * valves, as if each had been said. False where its kind is none that is
 * known, or it has more keys or valves than can be begun with.
 */
bool hbk_answers_of_pattern(struct hbk_answers *answers,
                            const struct hbk_pattern *pattern);

#endif
