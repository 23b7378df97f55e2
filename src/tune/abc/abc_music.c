#include "tune/abc/abc_music.h"

#include "base/messages.h"
#include "tune/abc/abc_bar.h"
#include "tune/abc/abc_chord.h"
#include "tune/abc/abc_field.h"
#include "tune/abc/abc_fingering.h"
#include "tune/abc/abc_group.h"
#include "tune/abc/abc_mark.h"
#include "tune/abc/abc_note.h"
#include "tune/abc/abc_signs.h"
#include "tune/abc/abc_text.h"
#include "tune/melody/build_marks.h"
#include "tune/melody/sign_words.h"

#include <string.h>

/* Where `c` comes next on the line, or HBK_TUNE_NONE. */
static size_t find(const struct hbk_abc *abc, size_t from, char c)
{
    const size_t room = abc->line.end - from;
    const char *const at =
        room == 0 ? NULL : memchr(abc->source.bytes + from, c, room);
    return at == NULL ? HBK_TUNE_NONE : (size_t)(at - abc->source.bytes);
}

static void unclosed(struct hbk_abc *abc, const char *what)
{
    hbk_build_error(&abc->build, hbk_abc_place(abc, abc->at), HBK_H_UNCLOSED,
                    "%s that begins here is not closed on its line", what);
}

/* Whether the text below a note that comes next is one of our own. */
static bool is_our_own(struct hbk_abc *abc)
{
    struct hbk_abc_texts *const texts = &abc->texts;
    if (abc->source.remark_end == 0) {
        return false;
    }
    const char *const end = abc->source.bytes + abc->source.remark_end;
    while (texts->others != NULL && texts->next_other <= texts->n) {
        texts->others =
            hbk_abc_number_at(texts->others, end, &texts->next_other);
    }
    return texts->others == NULL || texts->next_other != texts->n + 1;
}

/* Keeps what stands below a note; whether an earlier call put it there. */
static bool keep_below(struct hbk_abc *abc, size_t end)
{
    const bool is_own = is_our_own(abc);
    HBK_ARENA_GROW(abc->build.arena, abc->texts.items, abc->texts.n,
                   abc->texts.room);
    abc->texts.items[abc->texts.n++] = (struct hbk_abc_note_text){
        .begin = abc->at, .end = end, .is_heard = hbk_abc_is_heard(abc)};
    return is_own;
}

/* A text of the chosen voice: a mark, or a fingering of the note. */
static void take_text(struct hbk_abc *abc, size_t from, size_t close,
                      bool is_own)
{
    struct hbk_abc_music *const music = &abc->music;
    const char first = abc->source.bytes[from];
    const char sign = strchr("^_<>@", first) == NULL ? '\0' : first;
    from += sign == '\0' ? 0 : 1;
    const char *const text =
        hbk_abc_text(abc->build.arena, abc->source.bytes + from, close - from);
    if (!is_own) {
        (void)hbk_abc_sign(abc, text, true);
    }
    /* "_{...}" is how fingerings of grace notes are written. */
    if ((!is_own && hbk_abc_mark_text(abc, sign, text)) || text[0] == '{') {
        return;
    }
    const char **const slot = sign == '_' ? &music->below : &music->above;
    *slot = *slot == NULL ? text : *slot;
}

static void quoted(struct hbk_abc *abc)
{
    if (!hbk_abc_count_extra(abc)) {
        return;
    }
    const size_t close = find(abc, abc->at + 1, '"');
    if (close == HBK_TUNE_NONE) {
        unclosed(abc, "the text in quotes");
        return;
    }
    const size_t from = abc->at + 1;
    const bool is_below = abc->source.bytes[from] == '_';
    const bool is_own = is_below && keep_below(abc, close + 1);
    if (hbk_abc_is_heard(abc)) {
        take_text(abc, from, close, is_own);
    }
    abc->music.point = HBK_TUNE_NONE;
    abc->at = close + 1;
}

/* [X:...] */
static void inline_field(struct hbk_abc *abc)
{
    if (!hbk_abc_count_extra(abc)) {
        return;
    }
    const char letter = hbk_abc_peek(abc, 1);
    const size_t close = find(abc, abc->at, ']');
    if (close == HBK_TUNE_NONE) {
        unclosed(abc, "the field");
        return;
    }
    size_t from = abc->at + 3;
    size_t to = close;
    while (from < to && abc->source.bytes[from] == ' ') {
        from++;
    }
    while (to > from && abc->source.bytes[to - 1] == ' ') {
        to--;
    }
    if (strchr("IKLMmNPQRrUV", letter) == NULL) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->at),
                       HBK_H_ABC_UNKNOWN_FIELD,
                       "the field [%c:] has no meaning within music", letter);
    } else {
        (void)hbk_abc_field(abc, letter,
                            hbk_abc_text(abc->build.arena,
                                         abc->source.bytes + from, to - from));
    }
    abc->at = close + 1;
}

static bool is_field_here(const struct hbk_abc *abc)
{
    const char letter = hbk_abc_peek(abc, 1);
    return hbk_abc_peek(abc, 2) == ':' && ((letter >= 'A' && letter <= 'Z') ||
                                           (letter >= 'a' && letter <= 'z'));
}

/* In another voice only quotes and fields are looked at. */
static void skim(struct hbk_abc *abc)
{
    const char c = abc->source.bytes[abc->at];
    if (c == '"') {
        quoted(abc);
    } else if (c == '%') {
        abc->at = abc->line.end;
    } else if (c == '[' && is_field_here(abc)) {
        inline_field(abc);
    } else {
        /* The label of a part is for the voice whose music follows it. */
        abc->bars.part =
            strchr("ABCDEFGabcdefg", c) != NULL ? '\0' : abc->bars.part;
        abc->at++;
    }
}

static void open_grace(struct hbk_abc *abc)
{
    struct hbk_abc_music *const music = &abc->music;
    const size_t close = find(abc, abc->at, '}');
    if (close == HBK_TUNE_NONE || music->in_grace) {
        unclosed(abc, "the group of grace notes");
        return;
    }
    music->in_grace = true;
    music->grace_slash = hbk_abc_peek(abc, 1) == '/';
    abc->at += music->grace_slash ? 2 : 1;
}

static void bracket(struct hbk_abc *abc)
{
    const char next = hbk_abc_peek(abc, 1);
    if (is_field_here(abc)) {
        inline_field(abc);
    } else if (next == '|' || next == ']') {
        hbk_abc_bar_line(abc);
    } else if (next >= '0' && next <= '9') {
        abc->at++;
        hbk_abc_ending(abc);
    } else {
        hbk_abc_chord_begin(abc);
    }
}

static void decoration_letter(struct hbk_abc *abc, char letter)
{
    const char *const name = abc->said.symbols[(unsigned char)letter];
    if (abc->music.point == HBK_TUNE_NONE) {
        abc->music.point = abc->at;
    }
    if (name != NULL && name[0] == '"') {
        (void)hbk_abc_sign(abc, name + 2, true);
        (void)hbk_abc_mark_text(abc, name[1], name + 2);
    } else if (name != NULL) {
        hbk_abc_decorate(abc, name, strlen(name));
    } else {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->at),
                       HBK_H_STRAY_SIGN,
                       "\"%c\" stands for no decoration here and is passed "
                       "over",
                       letter);
    }
    abc->at++;
}

/* Whether what stands up to `close` says in which order the tune is played. */
static bool is_order(const struct hbk_abc *abc, size_t close)
{
    enum { NAME_MAX = 40 };
    char name[NAME_MAX + 1] = "";
    const size_t n = close - abc->at - 1;
    if (n > 0 && n <= NAME_MAX) {
        memcpy(name, abc->source.bytes + abc->at + 1, n);
    }
    return hbk_sign_words(name, NULL) != 0;
}

/*
 * !name! or +name+. In loose files a ! may instead end a line of the score:
 * it is a decoration only if its partner comes before a bar line or space.
 */
static void named_decoration(struct hbk_abc *abc, char sign)
{
    const size_t close = find(abc, abc->at + 1, sign);
    size_t stop = abc->at + 1;
    while (stop < abc->line.end && abc->source.bytes[stop] != sign &&
           strchr("|[: ]\t", abc->source.bytes[stop]) == NULL) {
        stop++;
    }
    /* "!D.C. al Fine!" has spaces, and means what it says. */
    const bool is_name =
        close != HBK_TUNE_NONE && (close == stop || is_order(abc, close));
    if (is_name ||
        (abc->source.strict && sign == '!' && close != HBK_TUNE_NONE)) {
        if (abc->music.point == HBK_TUNE_NONE) {
            abc->music.point = abc->at;
        }
        hbk_abc_decorate(abc, abc->source.bytes + abc->at + 1,
                         close - abc->at - 1);
        abc->at = close + 1;
    } else if (abc->source.strict) {
        unclosed(abc, "the decoration");
    } else {
        abc->at++;
    }
}

static void dot(struct hbk_abc *abc)
{
    const char next = hbk_abc_peek(abc, 1);
    if (next == '|') {
        hbk_abc_bar_line(abc);
    } else if (next == '(' || next == '-') {
        abc->at++; /* a dotted slur or tie is drawn as a slur or tie */
        hbk_build_left_out(&abc->build, "dotting of a slur or tie",
                           "dottings of slurs and ties");
    } else {
        decoration_letter(abc, '.');
    }
}

static void spacer(struct hbk_abc *abc)
{
    struct hbk_ratio ignored;
    abc->at++;
    (void)hbk_abc_length(abc, &ignored);
    abc->music.is_joined = false;
    abc->music.is_adjacent = false;
}

static void other_sign(struct hbk_abc *abc, char c)
{
    if (c == '&') {
        hbk_abc_overlay(abc);
        return;
    }
    if (strchr("#*;?@", c) != NULL && c != '\0') {
        if (!abc->music.reserved_told) {
            hbk_build_warn(
                &abc->build, hbk_abc_place(abc, abc->at), HBK_H_ABC_RESERVED,
                "\"%c\" has no meaning in music and is passed over", c);
        }
        abc->music.reserved_told = true;
    } else if (c != '$' && c != '\\' && c != '`') {
        const bool is_shown = c > ' ' && c < 0x7F;
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->at),
                       HBK_H_STRAY_SIGN,
                       "%s%s%s has no meaning here and is passed over",
                       is_shown ? "\"" : "a sign ",
                       is_shown ? (char[]){c, '\0'} : "that ABC does not know",
                       is_shown ? "\"" : "");
    }
    abc->at++;
}

/* Spaces, comments and the marks between notes; false if it is none. */
static bool punctuation(struct hbk_abc *abc, char c)
{
    struct hbk_abc_music *const music = &abc->music;
    switch (c) {
    case ' ':
    case '\t':
        music->is_joined = false;
        music->is_adjacent = false;
        abc->at++;
        return true;
    case '%':
        abc->at = abc->line.end;
        return true;
    case '"':
        quoted(abc);
        return true;
    case '}':
        music->in_grace = false;
        music->point = HBK_TUNE_NONE;
        abc->at++;
        return true;
    case '(':
        if (hbk_abc_peek(abc, 1) >= '0' && hbk_abc_peek(abc, 1) <= '9') {
            hbk_abc_tuplet(abc);
        } else {
            music->slur_starts++;
            music->slurs_open++;
            abc->at++;
        }
        return true;
    case ')':
        hbk_abc_slur_end(abc);
        return true;
    case '-':
        hbk_abc_tie(abc);
        return true;
    case '<':
    case '>':
        hbk_abc_broken(abc);
        return true;
    default:
        return false;
    }
}

/* The ] of a chord, or a bar line. */
static void end_or_bar(struct hbk_abc *abc, char c)
{
    if (abc->chord.is_open && c == ']') {
        hbk_abc_chord_end(abc);
    } else if (abc->chord.is_open) {
        unclosed(abc, "a chord before what");
    } else if (abc->music.in_grace) {
        unclosed(abc, "a group of grace notes before what");
    } else {
        hbk_abc_bar_line(abc);
    }
}

static void scan(struct hbk_abc *abc)
{
    const char c = abc->source.bytes[abc->at];
    if (punctuation(abc, c)) {
        return;
    }
    if (c == '{') {
        open_grace(abc);
    } else if (c == '[') {
        bracket(abc);
    } else if (c == '|' || c == ':' || c == ']') {
        end_or_bar(abc, c);
    } else if (c == '.') {
        dot(abc);
    } else if (c == '!' || c == '+') {
        named_decoration(abc, c);
    } else if ((c >= 'A' && c <= 'G') || (c >= 'a' && c <= 'g') || c == '^' ||
               c == '_' || c == '=') {
        hbk_abc_note(abc);
    } else if (c == 'z' || c == 'x' || c == 'Z' || c == 'X') {
        hbk_abc_rest(abc);
    } else if (c == 'y') {
        spacer(abc);
    } else if ((c >= 'H' && c <= 'W') || (c >= 'h' && c <= 'w') || c == '~') {
        decoration_letter(abc, c);
    } else {
        other_sign(abc, c);
    }
}

/* Whether the line of music goes on in the next: a backslash at its end. */
static bool goes_on(const struct hbk_abc *abc)
{
    const char *const bytes = abc->source.bytes;
    const char *const sign =
        memchr(bytes + abc->line.begin, '%', abc->line.end - abc->line.begin);
    size_t end = sign == NULL ? abc->line.end : (size_t)(sign - bytes);
    while (end > abc->line.begin && strchr(" \t", bytes[end - 1]) != NULL) {
        end--;
    }
    return end > abc->line.begin && bytes[end - 1] == '\\';
}

void hbk_abc_music_line(struct hbk_abc *abc)
{
    if (!abc->line_goes_on) {
        abc->line_first = abc->build.tune->n_events;
    }
    abc->line_goes_on = goes_on(abc);
    abc->at = abc->line.begin;
    while (abc->at < abc->line.end && !abc->build.failed) {
        if (hbk_abc_is_heard(abc)) {
            scan(abc);
        } else {
            skim(abc);
        }
    }
    abc->music.is_joined = false;
    abc->music.is_adjacent = false;
    abc->music.in_grace = false;
    if (hbk_abc_is_heard(abc)) {
        hbk_abc_signs_at_bar_line(abc);
    }
    abc->chord.is_open = false;
}

void hbk_abc_music_end(struct hbk_abc *abc)
{
    if (abc->music.tuplet_left > 0) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->line.begin),
                       HBK_H_TUPLET, "the last tuplet lacks %u notes",
                       abc->music.tuplet_left);
    }
    hbk_abc_bars_end(abc);
}
