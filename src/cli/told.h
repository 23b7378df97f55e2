#ifndef HBK_CLI_TOLD_H
#define HBK_CLI_TOLD_H

#include "base/text.h"

/* What the sheets of a player had to say. */
struct hbk_told {
    const char *name;  /* of the player */
    const char *words; /* lines "file:line:column: warning: text" */
};

/*
 * Adds all lines to `out`, in the order of the players. What several are told,
 * at whatever line of a file, is told once; a warning for only one of several
 * names that player.
 */
void hbk_tell_once(const struct hbk_told told[], size_t n,
                   struct hbk_text *out);

#endif
