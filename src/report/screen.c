#include "report/screen.h"

#include <string.h>

struct hbk_screen hbk_screen_of_file(void)
{
    return (struct hbk_screen){.columns = HBK_SCREEN_COLUMNS, .has_utf8 = true};
}

/* What stands for some characters of a report. */
static const struct {
    const char *from;
    const char *to;
    bool is_sign; /* kept where there are signs; else kept in UTF-8 */
} plain[] = {
    {"\u266F", "#", true},      {"\u266D", "b", true},
    {"\U0001D12A", "##", true}, {"\U0001D12B", "bb", true},
    {"\u00B0C", "C", false},    {"\u00B0", " degrees", false},
    {"\u00B1", "+-", false},    {"\u2013", "-", false},
    {"\u2014", "-", false},     {"\u2018", "'", false},
    {"\u2019", "'", false},     {"\u201C", "\"", false},
    {"\u201D", "\"", false},    {"\u2026", "...", false},
};

/* What each mark is in color. */
static const struct {
    char mark;
    const char *color;
} inks[] = {{HBK_HEAD[0], "\x1B[1m"},
            {HBK_CAUTION[0], "\x1B[31m"},
            {HBK_PLAIN[0], "\x1B[0m"}};

enum {
    N_PLAIN = sizeof(plain) / sizeof(plain[0]),
    N_INKS = sizeof(inks) / sizeof(inks[0])
};

static bool is_blank(const char *at)
{
    return *at == ' ';
}

/* Bytes of the character at `at`, which is not the end. */
static size_t length_of(const char *at)
{
    size_t n = 1;
    while (((unsigned char)at[n] & 0xC0U) == 0x80U) {
        n++;
    }
    return n;
}

/* A mark as its color; false for any other character. */
static bool add_mark(const struct hbk_screen *screen, char c,
                     struct hbk_text *out)
{
    for (size_t i = 0; i < N_INKS; i++) {
        if (c == inks[i].mark) {
            hbk_text_add(out, screen->has_color ? inks[i].color : "");
            return true;
        }
    }
    return c == HBK_HANG[0];
}

/* One character as this screen shows it; returns the bytes it took. */
static size_t add_character(const struct hbk_screen *screen, const char *at,
                            struct hbk_text *out)
{
    for (size_t i = 0; i < N_PLAIN; i++) {
        const size_t n = strlen(plain[i].from);
        const bool stays =
            plain[i].is_sign ? screen->has_signs : screen->has_utf8;
        if (!stays && strncmp(at, plain[i].from, n) == 0) {
            hbk_text_add(out, plain[i].to);
            return n;
        }
    }
    const size_t kept = strlen(HBK_KEPT_BLANK);
    if (strncmp(at, HBK_KEPT_BLANK, kept) == 0) {
        hbk_text_add(out, " ");
        return kept;
    }
    if (add_mark(screen, *at, out)) {
        return 1;
    }
    const size_t n = length_of(at);
    const bool steers = (unsigned char)*at < 0x20U || *at == 0x7F;
    hbk_text_put(out, steers ? "?" : at, n);
    return n;
}

/*
 * Whether a line may end at this blank: not before a unit or about an equals
 * sign, so that "A4 = 440 Hz" stays together.
 */
static bool may_break(const char *line, const char *at)
{
    static const char *const units[] = {"=",     "mm", "Hz",
                                        "cents", "%",  "\u00B0C"};
    const char *const next = at + 1;
    if (at == line || at[-1] == ' ' || *next == ' ') {
        return true; /* a gap between columns */
    }
    if (at[-1] == '=' && at - line >= 2 && at[-2] == ' ') {
        return false;
    }
    const bool is_after_figure = strchr("0123456789", at[-1]) != NULL;
    for (size_t i = 0; i < sizeof(units) / sizeof(units[0]); i++) {
        const size_t n = strlen(units[i]);
        const bool is_word = strncmp(next, units[i], n) == 0 &&
                             strchr(" ,.;:)\n", next[n]) != NULL;
        if (is_word && (i == 0 || is_after_figure)) {
            return false;
        }
    }
    return true;
}

/* The next word, without the blanks before it, as it is shown. */
struct word {
    const char *end;
    const char *shown;
    size_t columns; /* without its colors */
};

static struct word next_word(const struct hbk_screen *screen, const char *line,
                             const char *at, const char *end,
                             struct hbk_arena *arena)
{
    struct hbk_screen bare = *screen;
    struct hbk_text shown = {.arena = arena};
    struct hbk_text letters = {.arena = arena};
    bare.has_color = false;
    while (at < end && !(is_blank(at) && may_break(line, at))) {
        (void)add_character(&bare, at, &letters);
        at += add_character(screen, at, &shown);
    }
    return (struct word){.end = at,
                         .shown = hbk_text_string(&shown),
                         .columns =
                             hbk_text_columns(hbk_text_string(&letters))};
}

/* On a narrow screen, so much further in than the line itself. */
enum { NARROW_HANG = 4 };

/* Where the lines after the first begin: under HBK_HANG or the first word. */
static size_t hang_of(const char *line, const char *end,
                      const struct hbk_screen *screen, struct hbk_arena *arena)
{
    const char *hang = NULL;
    const char *at = line;
    struct hbk_screen bare = *screen;
    struct hbk_text before = {.arena = arena};
    bare.has_color = false;
    for (const char *c = line; c < end; c++) {
        hang = *c == HBK_HANG[0] ? c : hang;
    }
    if (hang == NULL) {
        return strspn(line, " ");
    }
    while (at < hang) {
        at += add_character(&bare, at, &before);
    }
    const size_t columns = hbk_text_columns(hbk_text_string(&before));
    /* On a narrow screen as much as leaves half of it to write in. */
    return columns > screen->columns / 2 && screen->columns < HBK_SCREEN_COLUMNS
               ? strspn(line, " ") + NARROW_HANG
               : columns;
}

static void lay_line(const struct hbk_screen *screen, const char *line,
                     const char *end, struct hbk_text *out)
{
    const size_t hang = hang_of(line, end, screen, out->arena);
    size_t column = 0;
    size_t start = 0; /* where this line's words begin */
    const char *at = line;
    while (at < end) {
        size_t blanks = 0;
        while (at + blanks < end && is_blank(at + blanks)) {
            blanks++;
        }
        const struct word word =
            next_word(screen, line, at + blanks, end, out->arena);
        if (word.columns == 0 && word.end == end) {
            blanks = 0; /* none at the end of a line */
        }
        if (column > start && word.columns > 0 &&
            column + blanks + word.columns > screen->columns) {
            hbk_text_addf(out, "\n%*s", (int)hang, "");
            column = hang;
            start = hang;
            blanks = 0;
        }
        hbk_text_addf(out, "%*s%s", (int)blanks, "", word.shown);
        column += blanks + word.columns;
        at = word.end;
    }
    hbk_text_add(out, "\n");
}

void hbk_screen_lay(const struct hbk_screen *screen, const char *report,
                    struct hbk_text *out)
{
    const char *line = report;
    while (*line != '\0') {
        const char *const newline = strchr(line, '\n');
        const char *const end = newline == NULL ? line + strlen(line) : newline;
        lay_line(screen, line, end, out);
        line = newline == NULL ? end : newline + 1;
    }
}
