#include "cli/told.h"

#include <stdbool.h>
#include <string.h>

/* A line in its pieces. */
struct line {
    const char *file, *text;
    size_t file_length;  /* without line and column */
    size_t begin_length; /* of file, place and "warning: " */
    size_t text_length;  /* without the newline */
    bool is_warning;
};

/* How much is left of a place without a number at its end. */
static size_t without_number(const char *text, size_t length)
{
    size_t n = length;
    while (n > 0 && text[n - 1] >= '0' && text[n - 1] <= '9') {
        n--;
    }
    return n > 0 && n < length && text[n - 1] == ':' ? n - 1 : length;
}

static struct line split(const char *text)
{
    static const char *const kinds[] = {": warning: ", ": error: "};
    const size_t length = strcspn(text, "\n");
    struct line line = {.file = text, .text = text, .text_length = length};
    for (size_t i = 0; i < sizeof(kinds) / sizeof(kinds[0]); i++) {
        const char *const kind = strstr(text, kinds[i]);
        if (kind != NULL && kind < text + length) {
            line.file_length = (size_t)(kind - text);
            line.begin_length = line.file_length + strlen(kinds[i]);
            line.is_warning = i == 0;
            break;
        }
    }
    line.file_length = without_number(text, line.file_length);
    line.file_length = without_number(text, line.file_length);
    line.text += line.begin_length;
    line.text_length -= line.begin_length;
    return line;
}

static bool is_same(const struct line *a, const struct line *b)
{
    return a->file_length == b->file_length &&
           a->text_length == b->text_length &&
           memcmp(a->file, b->file, a->file_length) == 0 &&
           memcmp(a->text, b->text, a->text_length) == 0;
}

/* Whether a line is among those from `words` to before `end`. */
static bool is_among(const struct line *line, const char *words,
                     const char *end)
{
    const char *at = words;
    while (*at != '\0' && at != end) {
        const struct line other = split(at);
        if (is_same(line, &other)) {
            return true;
        }
        at += strcspn(at, "\n");
        at += *at == '\n' ? 1 : 0;
    }
    return false;
}

static bool begins_with(const struct line *line, const char *name)
{
    const size_t length = strlen(name);
    return line->text_length > length && line->text[length] == ':' &&
           memcmp(line->text, name, length) == 0;
}

static void put(const struct hbk_told told[], size_t n, size_t player,
                const struct line *line, struct hbk_text *out)
{
    size_t players = 0;
    for (size_t i = 0; i < n; i++) {
        players += is_among(line, told[i].words, NULL);
    }
    hbk_text_put(out, line->file, line->begin_length);
    if (n > 1 && players == 1 && line->is_warning &&
        !begins_with(line, told[player].name)) {
        hbk_text_addf(out, "%s: ", told[player].name);
    }
    hbk_text_put(out, line->text, line->text_length);
    hbk_text_add(out, "\n");
}

void hbk_tell_once(const struct hbk_told told[], size_t n, struct hbk_text *out)
{
    for (size_t player = 0; player < n; player++) {
        const char *at = told[player].words;
        while (*at != '\0') {
            const struct line line = split(at);
            bool is_told = is_among(&line, told[player].words, at);
            for (size_t i = 0; i < player; i++) {
                is_told = is_told || is_among(&line, told[i].words, NULL);
            }
            if (!is_told) {
                put(told, n, player, &line, out);
            }
            at += strcspn(at, "\n");
            at += *at == '\n' ? 1 : 0;
        }
    }
}
