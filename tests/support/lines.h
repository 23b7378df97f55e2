#ifndef HBK_TESTS_LINES_H
#define HBK_TESTS_LINES_H

#include "support/check.h"

#include "base/text.h"
#include "report/screen.h"

#include <string.h>

/* Lines of text as a terminal shows them, and what stands in their columns. */

/* A report as a screen of so many columns shows it, with all its signs. */
static inline const char *shown_in(const struct hbk_text *text, size_t columns)
{
    struct hbk_text laid = {.arena = text->arena};
    const struct hbk_screen screen = {
        .columns = columns, .has_signs = true, .has_utf8 = true};
    hbk_screen_lay(&screen, hbk_text_string(text), &laid);
    return hbk_text_string(&laid);
}

/* Each line whole. */
static inline const char *shown(const struct hbk_text *text)
{
    return shown_in(text, 4000);
}

static inline void check_says(const struct hbk_text *text, const char *wanted)
{
    if (strstr(shown(text), wanted) == NULL) {
        print_error("\"%s\" is not in:\n%s\n", wanted, shown(text));
        fail();
    }
}

/* The column behind the first `word` in a line of text. */
static inline size_t column_behind(const char *line, const char *word,
                                   struct hbk_arena *arena)
{
    const char *const at = strstr(line, word);
    assert_non_null(at);
    return hbk_text_columns(
        hbk_arena_copy(arena, line, (size_t)(at - line) + strlen(word)));
}

/* Checks that `word` and a blank stand in the line and end at that column. */
static inline void check_ends(const char *line, size_t column, const char *word)
{
    const char *at = line;
    for (size_t c = 0; *at != '\0' && c < column; c++) {
        do {
            at++;
        } while (((unsigned char)*at & 0xC0) == 0x80);
    }
    const size_t length = strlen(word);
    const bool ends = (size_t)(at - line) > length && *at == ' ' &&
                      at[-(ptrdiff_t)length - 1] == ' ' &&
                      strncmp(at - length, word, length) == 0;
    if (!ends) {
        print_error("%s does not end in column %zu of: %s\n", word, column,
                    line);
        fail();
    }
}

static inline const char *line_with(const struct hbk_text *text,
                                    const char *begins, struct hbk_arena *arena)
{
    const char *at = shown(text);
    while (*at != '\0' && strncmp(at, begins, strlen(begins)) != 0) {
        at += strcspn(at, "\n");
        at += *at == '\n' ? 1 : 0;
    }
    if (*at == '\0') {
        print_error("no line begins \"%s\"\n", begins);
        fail();
    }
    return hbk_arena_copy(arena, at, strcspn(at, "\n"));
}

/* How often words stand in a text. */
static inline size_t count_of(const char *text, const char *words)
{
    size_t n = 0;
    for (const char *at = strstr(text, words); at != NULL;
         at = strstr(at + 1, words)) {
        n++;
    }
    return n;
}

static inline void check_line(const char *line, const char *wanted)
{
    if (strstr(line, wanted) == NULL) {
        print_error("\"%s\" is not in: %s\n", wanted, line);
        fail();
    }
}

#endif
