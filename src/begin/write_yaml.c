#include "begin/write_yaml.h"

#include "music/pitch.h"
#include "sheet/words/words.h"

#include <ctype.h>
#include <string.h>
#include <strings.h>

enum { COLUMNS = 78 };

/* `first` before the first line, `next` before every other. */
static void write_wrapped(struct hbk_text *out, const char *first,
                          const char *next, const char *words)
{
    size_t used = 0;
    const char *before = first;
    while (*words != '\0') {
        const size_t length = strcspn(words, " "); /* ASCII, as written here */
        if (used > 0 && used + 1 + length > COLUMNS) {
            hbk_text_add(out, "\n");
            used = 0;
            before = next;
        }
        hbk_text_add(out, used == 0 ? before : " ");
        used += (used == 0 ? strlen(before) : 1) + length;
        hbk_text_put(out, words, length);
        words += length;
        words += strspn(words, " ");
    }
    hbk_text_add(out, "\n");
}

void hbk_write_lines(struct hbk_text *out, const char *before,
                     const char *words)
{
    write_wrapped(out, before, before, words);
}

void hbk_write_remark(struct hbk_text *out, const char *name, const char *words)
{
    enum { NAME = 11 };
    write_wrapped(
        out, hbk_arena_printf(out->arena, "#   %-*s ", (int)NAME, name),
        hbk_arena_printf(out->arena, "#   %*s ", (int)NAME, ""), words);
}

/* Whether YAML takes it for text, and all of it. */
static bool is_plain(const char *text, bool in_braces)
{
    static const char *const others[] = {"true", "false", "null", "yes", "no",
                                         "on",   "off",   "y",    "n"};
    for (size_t i = 0; i < sizeof(others) / sizeof(others[0]); i++) {
        if (strcasecmp(text, others[i]) == 0) {
            return false;
        }
    }
    const char *const signs = in_braces ? " .-'()/#" : " ,.-'()/#";
    for (const char *c = text; *c != '\0'; c++) {
        const unsigned char u = (unsigned char)*c;
        const bool is_remark = *c == '#' && c > text && c[-1] == ' ';
        if (is_remark ||
            (isalnum(u) == 0 && u < 0x80 && strchr(signs, *c) == NULL)) {
            return false;
        }
    }
    return isalpha((unsigned char)text[0]) != 0 &&
           text[strlen(text) - 1] != ' ';
}

void hbk_write_scalar(struct hbk_text *out, const char *text, bool in_braces)
{
    if (is_plain(text, in_braces)) {
        hbk_text_add(out, text);
        return;
    }
    hbk_text_add(out, "\"");
    for (const char *c = text; *c != '\0'; c++) {
        hbk_text_add(out, *c == '"' || *c == '\\' ? "\\" : "");
        hbk_text_put(out, c, 1);
    }
    hbk_text_add(out, "\"");
}

const char *hbk_write_sounds(const struct hbk_text *out, int note)
{
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(
        out->arena, "%s",
        hbk_spelling_name(hbk_horn_key(note), HBK_ASCII, name));
}
