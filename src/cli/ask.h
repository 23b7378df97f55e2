#ifndef HBK_CLI_ASK_H
#define HBK_CLI_ASK_H

#include "base/arena.h"

#include <stdbool.h>

/* Questions on a terminal, one at a time, on standard error. */

/* Whether somebody sits there to be asked: standard input and error. */
bool hbk_can_ask(void);

/* Takes an answer, or says in `ctx` what would be right and returns false. */
typedef bool hbk_take_answer(void *ctx, const char *text);
/* What would be right, after an answer was not taken. */
typedef const char *hbk_why_not(void *ctx);

struct hbk_asking {
    const char *words; /* the question */
    const char *usual; /* what Enter takes; "" where it takes nothing */
    hbk_take_answer *take;
    hbk_why_not *why;
    void *ctx;
};

/*
 * Asks until an answer is taken, and says what would be right in between.
 * Enter leaves things as they are. False at the end of the input.
 *
 * arena   receives the answers
 */
bool hbk_ask(const struct hbk_asking *asking, struct hbk_arena *arena);

#endif
