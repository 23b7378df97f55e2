#ifndef HBK_TUNE_ABC_ABC_TEXT_H
#define HBK_TUNE_ABC_ABC_TEXT_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

/* Text with its escapes resolved, as UTF-8 in the arena. */
const char *hbk_abc_text(struct hbk_arena *arena, const char *bytes,
                         size_t length);

/* The text without the blanks and tabs at its beginning. */
const char *hbk_abc_skip_spaces(const char *text);

/* A to Z and a to z; ASCII only. */
bool hbk_abc_is_letter(char c);

#endif
