#include "tune/abc/abc_words.h"

#include "base/text.h"
#include "tune/abc/abc_fingering.h"
#include "tune/abc/abc_group.h"
#include "tune/abc/abc_mark.h"
#include "tune/abc/abc_text.h"
#include "tune/melody/build_marks.h"

#include <string.h>

/* The notes that a line goes over, one after the other. */
struct notes {
    const struct hbk_abc *abc;
    const struct hbk_tune *tune;
    size_t next, end; /* events */
    size_t bar;       /* in which the line is */
};

static struct notes notes_from(const struct hbk_abc *abc, size_t from,
                               size_t to)
{
    const struct hbk_tune *const tune = abc->build.tune;
    return (struct notes){.abc = abc,
                          .tune = tune,
                          .next = from,
                          .end = to,
                          .bar = from < to ? tune->events[from].bar : 0};
}

/* Words go by the first voice of a bar, and a chord has one syllable. */
static bool is_note(const struct hbk_abc *abc, size_t event)
{
    return abc->build.tune->events[event].kind == HBK_TUNE_NOTE &&
           abc->voiced.items[event].layer == 0 &&
           !abc->voiced.items[event].in_chord;
}

static bool find_note(struct notes *notes)
{
    while (notes->next < notes->end && !is_note(notes->abc, notes->next)) {
        notes->next++;
    }
    return notes->next < notes->end;
}

/* The next note; HBK_TUNE_NONE when there is none. */
static size_t take(struct notes *notes)
{
    if (!find_note(notes)) {
        return HBK_TUNE_NONE;
    }
    notes->bar = notes->tune->events[notes->next].bar;
    return notes->next++;
}

/* A bar line in the words: on to the next bar, if the notes are not yet. */
static void next_bar(struct notes *notes)
{
    while (find_note(notes) &&
           notes->tune->events[notes->next].bar <= notes->bar) {
        notes->next++;
    }
    notes->bar++;
}

/* ---- w: ---- */

/* A line of words while it is laid under the notes. */
struct words {
    struct hbk_abc *abc;
    struct notes notes;
    unsigned verse;
    size_t last;        /* syllable that may be held, or HBK_TUNE_NONE */
    const char *number; /* "1." that goes with the first syllable, or NULL */
    bool is_first;
};

/* A syllable as written, up to what ends it; returns what follows. */
static const char *read_syllable(struct hbk_arena *arena, const char *at,
                                 const char **syllable)
{
    struct hbk_text text = {.arena = arena};
    while (*at != '\0' && strchr(" \t-_*|", *at) == NULL) {
        const bool is_hyphen = at[0] == '\\' && at[1] == '-';
        if (is_hyphen) {
            at++;
        }
        hbk_text_put(&text, *at == '~' ? " " : at, 1);
        at++;
    }
    *syllable = hbk_text_string(&text);
    return at;
}

/* "1." or "2:" alone: the number of a verse, and no syllable. */
static bool is_number(const char *text)
{
    const size_t digits = strspn(text, "0123456789");
    return digits > 0 && strspn(text + digits, ".:)") == strlen(text + digits);
}

/* The syllable before goes on for one more note. */
static void hold(struct words *words, bool hyphen)
{
    const size_t note = take(&words->notes);
    if (note == HBK_TUNE_NONE || words->last == HBK_TUNE_NONE) {
        return;
    }
    struct hbk_tune_syllable *const syllable =
        &words->abc->build.tune->marks.syllables[words->last];
    syllable->last = note;
    syllable->hyphen = syllable->hyphen || hyphen;
}

static void put_syllable(struct words *words, const char *text, bool hyphen)
{
    struct hbk_abc *const abc = words->abc;
    if (words->is_first && !hyphen && is_number(text)) {
        words->number = text;
        words->is_first = false;
        return;
    }
    words->is_first = false;
    if (words->number != NULL) {
        text = hbk_arena_printf(abc->build.arena, "%s %s", words->number, text);
        words->number = NULL;
    }
    const size_t note = take(&words->notes);
    if (note == HBK_TUNE_NONE) {
        hbk_build_left_out(&abc->build, "syllable without a note",
                           "syllables without a note");
        words->last = HBK_TUNE_NONE;
        return;
    }
    struct hbk_tune_syllable *const syllable =
        hbk_build_syllable(&abc->build, note, words->verse, text,
                           hbk_abc_place(abc, abc->line.begin));
    if (syllable != NULL) {
        syllable->hyphen = hyphen;
        words->last = abc->build.tune->marks.n_syllables - 1;
    }
}

static const char *put_word(struct words *words, const char *at)
{
    const char *syllable = "";
    at = read_syllable(words->abc->build.arena, at, &syllable);
    const bool hyphen = *at == '-';
    put_syllable(words, syllable, hyphen);
    return hyphen ? at + 1 : at;
}

/* How many notes a line of words asks for, bar lines left aside. */
static size_t count_notes(const char *text)
{
    size_t n = 0;
    bool inside = false;
    for (const char *at = text; *at != '\0'; at++) {
        const bool is_escaped = at[0] == '\\' && at[1] == '-';
        const bool ends = !is_escaped && strchr(" \t-_*|", *at) != NULL;
        n += (!ends && !inside) || *at == '_' || *at == '*' ||
             (*at == '-' && !inside);
        inside = !ends;
        at += is_escaped ? 1 : 0;
    }
    return n;
}

static size_t count_from(const struct hbk_abc *abc, size_t from)
{
    size_t n = 0;
    for (size_t i = from; i < abc->build.tune->n_events; i++) {
        n += is_note(abc, i);
    }
    return n;
}

/* The notes that a lane's next line goes over. */
static void advance(struct hbk_abc *abc, struct hbk_abc_lane *lane,
                    const char *text)
{
    const struct hbk_tune *const tune = abc->build.tune;
    if (lane->verse > 0 && lane->to == tune->n_events) {
        lane->verse++;
        return;
    }
    lane->verse = 1;
    lane->from = lane->to;
    lane->to = tune->n_events;
    /* Before ABC 2.1 words belonged to the line of music right above. */
    if (!abc->source.strict && abc->line_first > lane->from &&
        abc->line_first < lane->to &&
        count_notes(text) <= count_from(abc, abc->line_first)) {
        lane->from = abc->line_first;
    }
}

void hbk_abc_words_line(struct hbk_abc *abc, const char *text)
{
    struct hbk_abc_lane *const lane = &abc->words;
    advance(abc, lane, text);
    struct words words = {.abc = abc,
                          .notes = notes_from(abc, lane->from, lane->to),
                          .verse = lane->verse,
                          .last = HBK_TUNE_NONE,
                          .is_first = true};
    const char *at = text;
    while (*at != '\0' && !abc->build.failed) {
        switch (*at) {
        case ' ':
        case '\t':
            at++;
            break;
        case '|':
            next_bar(&words.notes);
            at++;
            break;
        case '*':
            (void)take(&words.notes);
            words.last = HBK_TUNE_NONE;
            at++;
            break;
        case '_':
        case '-':
            hold(&words, *at == '-');
            at++;
            break;
        default:
            at = put_word(&words, at);
            break;
        }
    }
    if (words.number != NULL) {
        put_syllable(&words, "", false);
    }
}

/* ---- s: ---- */

/* "text" or !name! at `at`; returns what follows. */
static const char *put_sign(struct hbk_abc *abc, const char *at, size_t note)
{
    const char *const close = strchr(at + 1, *at);
    const size_t n = close == NULL ? strlen(at + 1) : (size_t)(close - at - 1);
    const char *text = hbk_arena_copy(abc->build.arena, at + 1, n);
    struct hbk_tune_event *const event = &abc->build.tune->events[note];
    abc->music.target = note;
    if (*at != '"') {
        const unsigned waiting = abc->music.decorations;
        abc->music.decorations = 0;
        hbk_abc_decorate(abc, text, n);
        event->articulation |= abc->music.decorations;
        abc->music.decorations = waiting;
    } else {
        const bool is_annotation =
            text[0] != '\0' && strchr("^_<>@", text[0]) != NULL;
        const char sign = is_annotation ? text[0] : '\0';
        text += is_annotation ? 1 : 0;
        if (!hbk_abc_mark_text(abc, sign, text) && event->fingering == NULL) {
            event->fingering = text;
        }
    }
    abc->music.target = HBK_TUNE_NONE;
    return close == NULL ? at + 1 + n : close + 1;
}

void hbk_abc_signs_line(struct hbk_abc *abc, const char *text)
{
    struct hbk_abc_lane *const lane = &abc->signs;
    advance(abc, lane, text);
    struct notes notes = notes_from(abc, lane->from, lane->to);
    const char *at = text;
    while (*at != '\0' && !abc->build.failed) {
        if (*at == '|') {
            next_bar(&notes);
            at++;
        } else if (*at == '*') {
            (void)take(&notes);
            at++;
        } else if (*at == '"' || *at == '!' || *at == '+') {
            const size_t note = take(&notes);
            if (note == HBK_TUNE_NONE) {
                hbk_build_left_out(&abc->build, "sign without a note",
                                   "signs without a note");
                return;
            }
            at = put_sign(abc, at, note);
        } else {
            at++;
        }
    }
}
