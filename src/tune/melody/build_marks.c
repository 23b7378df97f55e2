#include "tune/melody/build_marks.h"

#include "base/messages.h"
#include "tune/melody/build_words.h"

#include <string.h>

struct hbk_build_spot hbk_build_at_event(size_t event)
{
    return (struct hbk_build_spot){.where = HBK_BUILD_AT_EVENT,
                                   .event = event,
                                   .time = hbk_ratio_whole(0)};
}

struct hbk_build_spot hbk_build_at_next(const struct hbk_build *build)
{
    return hbk_build_at_event(build->tune->n_events);
}

static size_t last_bar(const struct hbk_build *build)
{
    return build->tune->n_bars == 0 ? 0 : build->tune->n_bars - 1;
}

struct hbk_build_spot hbk_build_at_time(const struct hbk_build *build,
                                        struct hbk_ratio time)
{
    return (struct hbk_build_spot){
        .where = HBK_BUILD_AT_TIME, .bar = last_bar(build), .time = time};
}

struct hbk_build_spot hbk_build_at_bar_end(const struct hbk_build *build)
{
    return (struct hbk_build_spot){.where = HBK_BUILD_AT_BAR_END,
                                   .bar = last_bar(build),
                                   .time = hbk_ratio_whole(0)};
}

/* Whether there is room for one more mark or syllable. */
static bool has_room(struct hbk_build *build, struct hbk_place place)
{
    struct hbk_build_marks *const marks = &build->marks;
    const size_t n = marks->n + build->tune->marks.n_syllables;
    if (n < HBK_BUILD_MARKS_MAX) {
        return true;
    }
    if (!marks->too_many) {
        hbk_build_error(build, place, HBK_H_TUNE_TOO_LARGE,
                        "the tune has more than %d marks and syllables",
                        HBK_BUILD_MARKS_MAX);
    }
    marks->too_many = true;
    return false;
}

struct hbk_build_mark *hbk_build_mark(struct hbk_build *build,
                                      enum hbk_tune_mark_kind kind,
                                      struct hbk_build_spot at,
                                      struct hbk_place place)
{
    struct hbk_build_marks *const marks = &build->marks;
    if (!has_room(build, place)) {
        return NULL;
    }
    HBK_ARENA_GROW(build->arena, marks->items, marks->n, marks->room);
    struct hbk_build_mark *const mark = &marks->items[marks->n++];
    *mark = (struct hbk_build_mark){
        .mark = {.kind = kind,
                 .text = "",
                 .metronome = {.beat = hbk_ratio_whole(0),
                               .count = "",
                               .equals = hbk_ratio_whole(0)}},
        .at = at,
        .end = at,
        .place = place,
    };
    return mark;
}

/* On one line, without spaces around it. */
static const char *one_line(struct hbk_arena *arena, const char *words)
{
    static const char spaces[] = " \t\r\n";
    words += strspn(words, spaces);
    size_t n = strlen(words);
    while (n > 0 && strchr(spaces, words[n - 1]) != NULL) {
        n--;
    }
    char *const line = hbk_arena_copy(arena, words, n);
    size_t to = 0;
    for (size_t i = 0; i < n; i++) {
        const bool is_space = strchr(spaces, line[i]) != NULL;
        if (!is_space || line[to - 1] != ' ') {
            line[to++] = is_space ? ' ' : line[i];
        }
    }
    line[to] = '\0';
    return line;
}

struct hbk_build_mark *hbk_build_words(struct hbk_build *build,
                                       const char *words,
                                       struct hbk_build_spot at,
                                       struct hbk_place place)
{
    const char *const line = one_line(build->arena, words);
    if (line[0] == '\0') {
        return NULL;
    }
    struct hbk_build_mark *const mark =
        hbk_build_mark(build, hbk_build_kind_of_words(line), at, place);
    if (mark != NULL) {
        mark->mark.text = line;
    }
    return mark;
}

void hbk_build_sign_marks(struct hbk_build *build, size_t bar, unsigned bits,
                          const char *words, struct hbk_place place)
{
    const struct hbk_build_spot begin = {
        .where = HBK_BUILD_AT_TIME, .bar = bar, .time = hbk_ratio_whole(0)};
    const struct hbk_build_spot end = {.where = HBK_BUILD_AT_BAR_END,
                                       .bar = bar};
    if ((bits & HBK_SIGN_SEGNO) != 0) {
        (void)hbk_build_mark(build, HBK_TUNE_MARK_SEGNO, begin, place);
    }
    if ((bits & (HBK_SIGN_CODA | HBK_SIGN_CODA_WITHIN)) != 0) {
        (void)hbk_build_mark(build, HBK_TUNE_MARK_CODA, begin, place);
    }
    struct hbk_build_mark *const mark =
        words == NULL ? NULL
                      : hbk_build_mark(build, HBK_TUNE_MARK_JUMP, end, place);
    if (mark != NULL) {
        mark->mark.text = words;
    }
}

void hbk_build_begin_line(struct hbk_build *build, struct hbk_build_mark *mark,
                          unsigned number)
{
    struct hbk_build_marks *const marks = &build->marks;
    mark->is_open = true;
    mark->number = number;
    if (marks->n_lines == HBK_BUILD_LINES_MAX) {
        marks->n_lines--;
        memmove(marks->lines, marks->lines + 1,
                marks->n_lines * sizeof(marks->lines[0]));
    }
    marks->lines[marks->n_lines++] = (size_t)(mark - marks->items);
}

struct hbk_build_mark *hbk_build_end_line(struct hbk_build *build,
                                          bool is_hairpin, unsigned number,
                                          struct hbk_build_spot end)
{
    struct hbk_build_marks *const marks = &build->marks;
    for (size_t i = marks->n_lines; i-- > 0;) {
        struct hbk_build_mark *const mark = &marks->items[marks->lines[i]];
        if (mark->number == number &&
            hbk_mark_is_hairpin(&mark->mark) == is_hairpin) {
            mark->is_open = false;
            mark->end = end;
            marks->n_lines--;
            memmove(marks->lines + i, marks->lines + i + 1,
                    (marks->n_lines - i) * sizeof(marks->lines[0]));
            return mark;
        }
    }
    return NULL;
}

struct hbk_tune_syllable *hbk_build_syllable(struct hbk_build *build,
                                             size_t event, unsigned verse,
                                             const char *text,
                                             struct hbk_place place)
{
    struct hbk_tune_marks *const marks = &build->tune->marks;
    if (!has_room(build, place)) {
        return NULL;
    }
    HBK_ARENA_GROW(build->arena, marks->syllables, marks->n_syllables,
                   build->marks.room_syllables);
    struct hbk_tune_syllable *const syllable =
        &marks->syllables[marks->n_syllables++];
    *syllable = (struct hbk_tune_syllable){
        .event = event, .verse = verse, .text = text, .last = event};
    marks->n_verses = verse > marks->n_verses ? verse : marks->n_verses;
    return syllable;
}

void hbk_build_stanza(struct hbk_build *build, const char *line)
{
    struct hbk_tune_marks *const marks = &build->tune->marks;
    HBK_ARENA_GROW(build->arena, marks->stanzas, marks->n_stanzas,
                   build->marks.room_stanzas);
    marks->stanzas[marks->n_stanzas++] = line;
}

void hbk_build_left_out(struct hbk_build *build, const char *one,
                        const char *many)
{
    struct hbk_tune_marks *const marks = &build->tune->marks;
    for (size_t i = 0; i < marks->n_left_out; i++) {
        if (strcmp(marks->left_out[i].one, one) == 0) {
            marks->left_out[i].count++;
            return;
        }
    }
    HBK_ARENA_GROW(build->arena, marks->left_out, marks->n_left_out,
                   build->marks.room_left_out);
    marks->left_out[marks->n_left_out++] =
        (struct hbk_tune_left_out){.one = one, .many = many, .count = 1};
}
