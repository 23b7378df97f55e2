#ifndef HBK_BASE_TEXT_H
#define HBK_BASE_TEXT_H

#include "base/arena.h"
#include "base/status.h"

#include <stdbool.h>

/*
 * Text that grows. Start with {.arena = ...}; `bytes` is NULL while empty
 * and ends with a NUL afterwards. Lives in the arena, which it borrows.
 */
struct hbk_text {
    struct hbk_arena *arena;
    char *bytes;
    size_t length;
    size_t capacity;
};

void hbk_text_put(struct hbk_text *text, const char *bytes, size_t length);
void hbk_text_add(struct hbk_text *text, const char *string);
void hbk_text_addf(struct hbk_text *text, const char *fmt, ...)
    HBK_PRINTF(2, 3);

/*
 * Adds text as the content or a quoted attribute of XML: & < > and " become
 * entities, control characters spaces. What is no UTF-8, or no character of
 * XML, becomes U+FFFD.
 */
void hbk_text_add_xml(struct hbk_text *text, const char *string);

/* Adds one field of comma-separated values, quoted where RFC 4180 wants it. */
void hbk_text_add_csv(struct hbk_text *text, const char *field);

/* Never NULL: "" while the text is empty. */
const char *hbk_text_string(const struct hbk_text *text);

/*
 * How many columns UTF-8 text takes on a terminal (code points), control
 * characters none.
 */
size_t hbk_text_columns(const char *utf8);

/* Whether the bytes are valid UTF-8 without NUL. */
bool hbk_text_is_utf8(const char *bytes, size_t length);

/*
 * Whether a text has control characters of ASCII or such as turn the direction
 * of writing (U+202A to U+202E, U+2066 to U+2069): with them a name could read
 * as another.
 */
bool hbk_text_has_control(const char *text);

/*
 * The entry of `known` (n strings) that `word` most likely means: the least
 * edit distance, at most a third of the word's length plus one; NULL if
 * none is that near.
 */
const char *hbk_text_nearest(const char *word, const char *const known[],
                             size_t n);

#endif
