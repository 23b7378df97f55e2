#include "tune/melody/line.h"

#include "base/text.h"

#include <string.h>

bool hbk_line_parse(const char *text, int *number)
{
    if (strcmp(text, "top") == 0) {
        *number = 1;
    } else if (strcmp(text, "bottom") == 0) {
        *number = HBK_TUNE_LINE_BOTTOM;
    } else if (text[0] >= '1' && text[0] <= '9' && text[1] == '\0') {
        *number = text[0] - '0';
    } else {
        return false;
    }
    return true;
}

const char *hbk_line_word(struct hbk_arena *arena, int number)
{
    return number == HBK_TUNE_LINE_BOTTOM ? "bottom"
           : number <= 1                  ? "top"
                         : hbk_arena_printf(arena, "%d", number);
}

const char *hbk_line_words(struct hbk_arena *arena,
                           const struct hbk_tune_line *line)
{
    const char *const of = line->chords > 0 && line->bars > 0
                               ? "chords and voices"
                           : line->chords > 0 ? "chords"
                           : line->bars > 0   ? "several voices"
                           : line->staves > 1 ? "several staves"
                                              : NULL;
    if (of == NULL) {
        return "";
    }
    return line->number > 1
               ? hbk_arena_printf(arena, "line %d from the top of %s",
                                  line->number, of)
               : hbk_arena_printf(arena, "the %s line of %s",
                                  hbk_line_word(arena, line->number), of);
}

/* ---- which voice of a bar, and which of its notes ---- */

/* The most notes that a voice has at once; 1 for one of rests, 0 for none. */
static size_t width_of(const struct hbk_line_item *items, size_t n,
                       size_t voice)
{
    size_t width = 0;
    for (size_t i = 0; i < n; i++) {
        if (items[i].voice == voice && items[i].is_written) {
            width = items[i].notes > width ? items[i].notes : width;
            width = width == 0 ? 1 : width;
        }
    }
    return width;
}

static size_t voices_of(const struct hbk_line_item *items, size_t n)
{
    size_t voices = 0;
    for (size_t i = 0; i < n; i++) {
        voices = items[i].voice + 1 > voices ? items[i].voice + 1 : voices;
    }
    return voices;
}

static bool has_notes(const struct hbk_line_item *items, size_t n, size_t voice)
{
    for (size_t i = 0; i < n; i++) {
        if (items[i].voice == voice && items[i].notes > 0) {
            return true;
        }
    }
    return false;
}

/* The voice that a line is in; `rank` receives which of its notes. */
static size_t voice_of(int number, const struct hbk_line_item *items, size_t n,
                       size_t *rank)
{
    const size_t voices = voices_of(items, n);
    const size_t wanted =
        number == HBK_TUNE_LINE_BOTTOM ? SIZE_MAX : (size_t)number;
    size_t before = 0;
    size_t last = 0;
    *rank = 0;
    for (size_t v = 0; v < voices; v++) {
        const size_t width = width_of(items, n, v);
        if (width == 0) {
            continue;
        }
        last = v;
        if (wanted <= before + width) {
            *rank = wanted - before - 1;
            return v;
        }
        before += width;
    }
    *rank = SIZE_MAX;
    return last;
}

/* Which note is taken from chords of the voice that the line is in. */
struct rank {
    size_t voice;
    size_t own, other; /* in that voice, and in one that it takes over from */
};

static void read_item(struct hbk_line_item *item, const struct rank *rank)
{
    const size_t wanted = item->voice == rank->voice ? rank->own : rank->other;
    const size_t lowest = item->notes == 0 ? 0 : item->notes - 1;
    item->is_read = true;
    item->note = wanted < lowest ? wanted : lowest;
}

/* ---- what it plays where it has nothing of its own ---- */

/* Whether the line is silent at a time; until when, and not beyond `end`. */
static bool is_gap(const struct hbk_line_item *items, size_t n,
                   struct hbk_ratio from, struct hbk_ratio *end)
{
    for (size_t i = 0; i < n; i++) {
        struct hbk_ratio stop;
        if (!items[i].is_read || items[i].is_grace ||
            !hbk_ratio_add(items[i].onset, items[i].length, &stop)) {
            continue;
        }
        if (hbk_ratio_compare(items[i].onset, from) > 0) {
            *end = hbk_ratio_compare(items[i].onset, *end) < 0 ? items[i].onset
                                                               : *end;
        } else if (hbk_ratio_compare(stop, from) > 0) {
            return false;
        }
    }
    return true;
}

/* Takes over the notes of another voice that begin in gaps of the line. */
static void fill_from(size_t voice, const struct rank *rank,
                      struct hbk_line_item *items, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct hbk_line_item *const item = &items[i];
        struct hbk_ratio stop;
        if (item->voice != voice || item->is_grace || item->notes == 0 ||
            item->is_read || !hbk_ratio_add(item->onset, item->length, &stop)) {
            continue;
        }
        struct hbk_ratio end = stop;
        if (!is_gap(items, n, item->onset, &end)) {
            continue;
        }
        const bool is_cut = hbk_ratio_compare(end, stop) < 0;
        if (!is_cut || (!item->is_tuplet &&
                        hbk_ratio_sub(end, item->onset, &item->length))) {
            read_item(item, rank);
        }
    }
}

/* Grace notes go with the note after them, or else with the one before. */
static void read_graces(struct hbk_line_item *items, size_t n,
                        const struct rank *rank)
{
    bool next[HBK_LINE_VOICES_MAX] = {false};
    bool has_next[HBK_LINE_VOICES_MAX] = {false};
    for (size_t i = n; i-- > 0;) {
        const size_t voice = items[i].voice;
        if (!items[i].is_grace) {
            next[voice] = items[i].is_read;
            has_next[voice] = true;
        } else if (has_next[voice] && next[voice]) {
            read_item(&items[i], rank);
        }
    }
    bool before[HBK_LINE_VOICES_MAX] = {false};
    size_t last[HBK_LINE_VOICES_MAX] = {0};
    for (size_t i = 0; i < n; i++) {
        if (!items[i].is_grace) {
            before[items[i].voice] = items[i].is_read;
            last[items[i].voice] = i + 1;
        }
    }
    for (size_t i = 0; i < n; i++) {
        if (items[i].is_grace && i >= last[items[i].voice] &&
            before[items[i].voice]) {
            read_item(&items[i], rank);
        }
    }
}

void hbk_line_pick(int number, struct hbk_line_item *items, size_t n,
                   struct hbk_tune_line *line)
{
    enum { FILLED_MAX = 2000 }; /* no bar of music has more; time is squared */
    struct rank rank = {.other = number == HBK_TUNE_LINE_BOTTOM
                                     ? SIZE_MAX
                                     : (size_t)number - 1};
    size_t lines = 0;
    size_t others = 0;
    const size_t voices = voices_of(items, n);
    rank.voice = voice_of(number, items, n, &rank.own);
    for (size_t i = 0; i < n; i++) {
        items[i].is_read = false;
        if (items[i].voice == rank.voice && !items[i].is_grace &&
            items[i].is_written) {
            read_item(&items[i], &rank);
        }
    }
    for (size_t v = rank.voice; v > 0 && n <= FILLED_MAX; v--) {
        fill_from(v - 1, &rank, items, n);
    }
    for (size_t v = 0; v < voices; v++) {
        if (v > rank.voice && n <= FILLED_MAX) {
            fill_from(v, &rank, items, n);
        }
        lines += width_of(items, n, v);
        others += v != rank.voice && has_notes(items, n, v) ? 1 : 0;
    }
    read_graces(items, n, &rank);
    for (size_t i = 0; i < n; i++) {
        line->chords += items[i].is_read && items[i].notes > 1 ? 1 : 0;
    }
    line->bars += others > 0 ? 1 : 0;
    line->most = lines > line->most ? lines : line->most;
}
