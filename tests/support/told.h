#ifndef HBK_TESTS_TOLD_H
#define HBK_TESTS_TOLD_H

#include "support/csv.h"
#include "support/json.h"
#include "support/lines.h"

/* What three reports say of one result. */
struct told {
    struct hbk_text text, csv, json;
};

static inline struct told told_in(struct hbk_arena *arena)
{
    return (struct told){{.arena = arena}, {.arena = arena}, {.arena = arena}};
}

#endif
