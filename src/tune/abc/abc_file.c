#include "tune/abc/abc_file.h"

#include "base/ending.h"
#include "base/messages.h"
#include "tune/melody/part_name.h"

#include <stdio.h>
#include <string.h>

static bool is_blank(const char *bytes, struct hbk_abc_line line)
{
    for (size_t i = line.begin; i < line.end; i++) {
        if (bytes[i] != ' ' && bytes[i] != '\t') {
            return false;
        }
    }
    return true;
}

static bool is_field(const char *bytes, struct hbk_abc_line line, char letter)
{
    return line.end - line.begin >= 2 && bytes[line.begin] == letter &&
           bytes[line.begin + 1] == ':';
}

/* One tune as the first look over the file sees it. */
struct listing {
    size_t begin, end;
    unsigned line;
    const char *number, *title;
    bool runs_into_next; /* no blank line before the next X: */
};

struct look {
    struct listing *tunes;
    size_t n, room;
    size_t first_blank; /* where the first blank line begins */
};

enum { TUNES_MAX = 100000 };

static bool list_tunes(struct hbk_abc *abc, struct look *look)
{
    bool inside = false;
    bool seen_blank = false;
    struct hbk_abc_line line = {.next = abc->source.start};
    look->first_blank = abc->source.length;
    while (line.next < abc->source.length) {
        line = hbk_abc_line_at(abc->source.bytes, abc->source.length, line.next,
                               line.number + 1);
        if (is_blank(abc->source.bytes, line)) {
            look->first_blank = seen_blank ? look->first_blank : line.begin;
            seen_blank = true;
            if (inside) {
                look->tunes[look->n - 1].end = line.begin;
            }
            inside = false;
        } else if (is_field(abc->source.bytes, line, 'X')) {
            if (inside) {
                look->tunes[look->n - 1].end = line.begin;
                look->tunes[look->n - 1].runs_into_next = true;
            }
            if (look->n == TUNES_MAX) {
                return false;
            }
            HBK_ARENA_GROW(abc->build.arena, look->tunes, look->n, look->room);
            look->tunes[look->n++] = (struct listing){
                .begin = line.begin,
                .end = abc->source.length,
                .line = line.number,
                .number = hbk_abc_line_text(&abc->source, line, line.begin + 2,
                                            abc->build.arena),
                .title = "",
            };
            inside = true;
        } else if (inside && is_field(abc->source.bytes, line, 'T') &&
                   look->tunes[look->n - 1].title[0] == '\0') {
            look->tunes[look->n - 1].title = hbk_abc_line_text(
                &abc->source, line, line.begin + 2, abc->build.arena);
        }
    }
    return true;
}

static void tell_choice(struct hbk_abc *abc, const struct look *look,
                        unsigned number, const char *begin)
{
    struct hbk_text list = {.arena = abc->build.arena};
    size_t shown = 0;
    while (shown < look->n && list.length < 240) {
        hbk_text_addf(&list, "%s%s (%.40s)", shown == 0 ? "" : ", ",
                      look->tunes[shown].number, look->tunes[shown].title);
        shown++;
    }
    hbk_build_error(&abc->build, (struct hbk_place){.file = abc->source.file},
                    number, "%s; choose one by its number: %.260s%s", begin,
                    hbk_text_string(&list), shown < look->n ? ", ..." : "");
}

static const char *why_no_tune(const struct hbk_abc *abc)
{
    const char *const text = abc->source.bytes + abc->source.start;
    const char first = text[strspn(text, " \t\r\n")];
    if (first == '\0') {
        return "the file is empty";
    }
    if (first == '<') {
        return "this is a web page, and no ABC tune stands in it; save the "
               "music itself, as ABC or MusicXML";
    }
    if (hbk_ends_as_musicxml(abc->source.file)) {
        return "this is not MusicXML, which begins with <, and there is no "
               "ABC tune in it either";
    }
    return "there is no ABC tune in it: a tune begins with a line such as X:1";
}

static const struct listing *choose(struct hbk_abc *abc,
                                    const struct look *look,
                                    const struct hbk_tune_options *options)
{
    const struct hbk_place nowhere = {.file = abc->source.file};
    const char *const wanted = options == NULL ? NULL : options->tune;
    if (look->n == 0) {
        hbk_build_error(&abc->build, nowhere, HBK_H_NO_TUNE, "%s",
                        why_no_tune(abc));
        return NULL;
    }
    if (options != NULL && options->nth > 0 && options->nth <= look->n) {
        return &look->tunes[options->nth - 1];
    }
    if (wanted == NULL && look->n == 1) {
        return &look->tunes[0];
    }
    if (wanted == NULL) {
        tell_choice(abc, look, HBK_H_CHOOSE_TUNE,
                    "there are several tunes in it");
        return NULL;
    }
    for (size_t i = 0; i < look->n; i++) {
        if (strcmp(look->tunes[i].number, wanted) == 0) {
            return &look->tunes[i];
        }
    }
    for (size_t i = 0; i < look->n; i++) {
        if (strcmp(look->tunes[i].title, wanted) == 0) {
            return &look->tunes[i];
        }
    }
    tell_choice(abc, look, HBK_H_NO_SUCH_TUNE,
                hbk_arena_printf(abc->build.arena,
                                 "there is no tune \"%.60s\" in it", wanted));
    return NULL;
}

/* The first block is a file header if it is nothing but fields. */
static size_t find_file_header(const struct hbk_abc *abc,
                               const struct look *look)
{
    struct hbk_abc_line line = {.next = abc->source.start};
    while (line.next < look->first_blank) {
        line = hbk_abc_line_at(abc->source.bytes, abc->source.length, line.next,
                               0);
        const char *const at = abc->source.bytes + line.begin;
        const size_t n = line.end - line.begin;
        const bool is_comment = n > 0 && at[0] == '%';
        const bool is_a_field =
            n > 1 && at[1] == ':' && at[0] != 'X' &&
            ((at[0] >= 'A' && at[0] <= 'Z') || (at[0] >= 'a' && at[0] <= 'z'));
        if (!is_comment && !is_a_field) {
            return 0;
        }
    }
    return look->first_blank;
}

static void add_voice(struct hbk_abc *abc, const char *from, size_t room)
{
    while (room > 0 && (*from == ' ' || *from == '\t')) {
        from++;
        room--;
    }
    size_t n = 0;
    while (n < room && n + 1 < HBK_ABC_VOICE_SIZE &&
           strchr(" \t]%", from[n]) == NULL) {
        n++;
    }
    if (n == 0 || (n == 1 && from[0] == '*')) {
        return;
    }
    for (size_t i = 0; i < abc->voices.n; i++) {
        if (strlen(abc->voices.names[i]) == n &&
            memcmp(abc->voices.names[i], from, n) == 0) {
            return;
        }
    }
    if (abc->voices.n < HBK_ABC_VOICES_MAX) {
        memcpy(abc->voices.names[abc->voices.n++], from, n);
    }
}

static void list_voices(struct hbk_abc *abc)
{
    struct hbk_abc_line line = {.next = abc->source.begin};
    while (line.next < abc->source.end) {
        line =
            hbk_abc_line_at(abc->source.bytes, abc->source.end, line.next, 0);
        const char *const at = abc->source.bytes + line.begin;
        const size_t n = line.end - line.begin;
        if (is_field(abc->source.bytes, line, 'V')) {
            add_voice(abc, at + 2, n - 2);
            continue;
        }
        bool quoted = false;
        for (size_t i = 0; i + 2 < n && (quoted || at[i] != '%'); i++) {
            quoted = quoted != (at[i] == '"');
            if (!quoted && memcmp(at + i, "[V:", 3) == 0) {
                add_voice(abc, at + i + 3, n - i - 3);
            }
        }
    }
}

/* The voice of the same name as player or horn; whether there is one. */
static bool voice_by_name(struct hbk_abc *abc,
                          const struct hbk_tune_options *options)
{
    const char *names[HBK_ABC_VOICES_MAX];
    for (size_t i = 0; i < abc->voices.n; i++) {
        names[i] = abc->voices.names[i];
    }
    const size_t found = hbk_part_by_name(options, names, abc->voices.n);
    if (found == abc->voices.n) {
        return false;
    }
    abc->voices.chosen = (int)found;
    hbk_build_warn(&abc->build, hbk_whole_file(abc->source.file),
                   HBK_H_PART_BY_NAME,
                   "of %zu voices %s is read, by its name; for another name "
                   "the voice",
                   abc->voices.n, names[found]);
    return true;
}

static bool choose_voice(struct hbk_abc *abc,
                         const struct hbk_tune_options *options)
{
    const char *const wanted = options == NULL ? NULL : options->voice;
    abc->voices.chosen = abc->voices.n == 0 ? -1 : 0;
    if (wanted == NULL && (abc->voices.n < 2 || voice_by_name(abc, options))) {
        return true;
    }
    struct hbk_text list = {.arena = abc->build.arena};
    for (size_t i = 0; i < abc->voices.n; i++) {
        if (wanted != NULL && strcmp(abc->voices.names[i], wanted) == 0) {
            abc->voices.chosen = (int)i;
            return true;
        }
        hbk_text_addf(&list, "%s%s", i == 0 ? "" : ", ", abc->voices.names[i]);
    }
    const struct hbk_place place = {.file = abc->source.file,
                                    .line = abc->source.begin_line};
    if (wanted == NULL) {
        hbk_build_error(&abc->build, place, HBK_H_CHOOSE_VOICE,
                        "the tune has several voices; choose one of %.200s",
                        hbk_text_string(&list));
    } else {
        hbk_build_error(&abc->build, place, HBK_H_NO_SUCH_VOICE,
                        "the tune has no voice \"%.40s\"%s%.200s", wanted,
                        abc->voices.n == 0 ? "; it has only one line"
                                           : "; it has ",
                        hbk_text_string(&list));
    }
    return false;
}

/* A part is of a score in MusicXML; false, told, where one is asked for. */
static bool check_part(struct hbk_abc *abc,
                       const struct hbk_tune_options *options)
{
    if (options == NULL || options->part == NULL) {
        return true;
    }
    struct hbk_text list = {.arena = abc->build.arena};
    for (size_t i = 0; i < abc->voices.n; i++) {
        hbk_text_addf(&list, "%s%s", i == 0 ? ", one of " : ", ",
                      abc->voices.names[i]);
    }
    hbk_build_error(&abc->build,
                    (struct hbk_place){.file = abc->source.file,
                                       .line = abc->source.begin_line},
                    HBK_H_NO_SUCH_PART,
                    "there is no part \"%.40s\": a tune in ABC has voices; "
                    "choose a voice instead%.200s",
                    options->part, hbk_text_string(&list));
    return false;
}

bool hbk_abc_find_tune(struct hbk_abc *abc,
                       const struct hbk_tune_options *options)
{
    struct look look = {.n = 0};
    if (!list_tunes(abc, &look)) {
        hbk_build_error(&abc->build,
                        (struct hbk_place){.file = abc->source.file},
                        HBK_H_TUNE_TOO_LARGE,
                        "there are more than %d tunes in it", TUNES_MAX);
        return false;
    }
    const struct listing *const chosen = choose(abc, &look, options);
    if (chosen == NULL) {
        return false;
    }
    abc->source.header_end = find_file_header(abc, &look);
    abc->source.begin = chosen->begin;
    abc->source.end = chosen->end;
    abc->source.begin_line = chosen->line;
    if (chosen->runs_into_next) {
        hbk_build_warn(
            &abc->build,
            (struct hbk_place){.file = abc->source.file, .line = chosen->line},
            HBK_H_ABC_NO_BLANK_LINE,
            "no blank line separates this tune from the next");
    }
    list_voices(abc);
    return check_part(abc, options) && choose_voice(abc, options);
}

size_t hbk_abc_count_tunes(const char *bytes, size_t length)
{
    size_t n = 0;
    struct hbk_abc_line line = {.next = 0};
    while (line.next < length) {
        line = hbk_abc_line_at(bytes, length, line.next, 0);
        n += is_field(bytes, line, 'X');
    }
    return n;
}
